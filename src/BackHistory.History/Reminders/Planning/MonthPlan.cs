namespace BackHistory.History.Reminders.Planning;

/// <summary>
/// Proposes visits: horses of one yard together, those that are due first, within the fitters' working days. A yard is visited where most
/// of the waiting it saves falls to the visit; nothing is moved that is booked. Deterministic: the same wishes give the same proposal.
/// Pure.
/// </summary>
public static class MonthPlan
{
    /// <param name="fitters">At least one; a null among them is whoever goes.</param>
    public static ProposedMonth Propose(
        IReadOnlyList<WantedVisit> wanted,
        IReadOnlyList<FixedVisit> booked,
        IReadOnlyList<Guid?> fitters,
        PlanningSetting setting,
        DateOnly from,
        DateOnly to
    )
    {
        var days = Days(booked, fitters, setting, from, to);
        var stops = new List<(WorkingDay Day, Guid? Yard, List<(WantedVisit Visit, TimeOnly At)> Visits)>();
        var unplaced = new List<WantedVisit>();
        foreach (var yard in Yards(wanted, from))
        {
            var left = new Queue<WantedVisit>(yard.OrderBy(w => w.Due).ThenByDescending(w => w.Weight).ThenBy(w => w.HorseId));
            while (left.Count > 0)
            {
                // Where somebody of ours is at this yard anyway, else the earliest day that takes most of its horses.
                var day = days.Where(d => d.Holds(yard.Key, setting) > 0)
                    .OrderByDescending(d => d.IsAt(yard.Key))
                    .ThenByDescending(d => Math.Min(left.Count, d.Holds(yard.Key, setting)) == Math.Min(left.Count, Most(setting)))
                    .ThenBy(d => d.On)
                    .ThenBy(d => d.Order)
                    .FirstOrDefault();
                if (day is null)
                    break;
                var visits = new List<(WantedVisit, TimeOnly)>();
                for (var n = day.Holds(yard.Key, setting); n > 0 && left.Count > 0; n--)
                    visits.Add((left.Dequeue(), day.Take(yard.Key, setting)));
                stops.Add((day, yard.Key, visits));
            }

            unplaced.AddRange(left);
        }

        return new ProposedMonth(
            [
                .. stops
                    .OrderBy(s => s.Day.On)
                    .ThenBy(s => s.Visits[0].At)
                    .ThenBy(s => s.Day.Order)
                    .Select(s => new ProposedStop(
                        s.Day.On,
                        s.Day.Fitter,
                        s.Yard,
                        [
                            .. s.Visits.Select(v => new ProposedVisit(
                                v.Visit.HorseId,
                                v.Visit.ReminderId,
                                v.Visit.Due,
                                v.At,
                                setting.VisitMinutes
                            )),
                        ]
                    )),
            ],
            unplaced
        );
    }

    /// <summary>Yards in the order in which waiting hurts: by the weighted days that their horses are late or nearly so.</summary>
    private static IEnumerable<IGrouping<Guid?, WantedVisit>> Yards(IReadOnlyList<WantedVisit> wanted, DateOnly from) =>
        // Horses without a known yard are no group: each is a place of its own.
        wanted
            .Where(w => w.YardId is not null)
            .GroupBy(w => w.YardId)
            .Concat(wanted.Where(w => w.YardId is null).SelectMany(w => new[] { w }.GroupBy(_ => (Guid?)null)))
            .OrderByDescending(g => g.Max(w => w.Weight * 1000 - (w.Due.DayNumber - from.DayNumber)))
            .ThenBy(g => g.Min(w => w.Due))
            .ThenBy(g => g.Min(w => w.HorseId));

    private static int Most(PlanningSetting setting) =>
        (int)((setting.End - setting.Start).TotalMinutes - setting.YardMinutes) / setting.VisitMinutes;

    private static List<WorkingDay> Days(
        IReadOnlyList<FixedVisit> booked,
        IReadOnlyList<Guid?> fitters,
        PlanningSetting setting,
        DateOnly from,
        DateOnly to
    )
    {
        var days = new List<WorkingDay>();
        for (var on = from; on <= to; on = on.AddDays(1))
        {
            if (!setting.WorkDays.Contains(on.DayOfWeek) || setting.FreeDays.Contains(on))
                continue;
            for (var n = 0; n < fitters.Count; n++)
            {
                var day = new WorkingDay(on, fitters[n], n, setting);
                // What nobody was named for goes to the first.
                foreach (
                    var b in booked
                        .Where(b => DateOnly.FromDateTime(b.Start) == on && (b.Fitter == fitters[n] || (b.Fitter is null && n == 0)))
                        .OrderBy(b => b.Start)
                )
                    day.Block(b, setting);
                days.Add(day);
            }
        }

        return days;
    }

    /// <summary>One fitter's day: what is booked, and the minutes between.</summary>
    private sealed class WorkingDay(DateOnly on, Guid? fitter, int order, PlanningSetting setting)
    {
        private readonly List<(TimeOnly From, TimeOnly To)> _taken = [];
        private readonly HashSet<Guid> _yards = [];
        private Guid? _last;
        private TimeOnly _lastEnd = setting.Start;

        public DateOnly On => on;

        public Guid? Fitter => fitter;

        public int Order => order;

        public bool IsAt(Guid? yard) => yard is { } id && _yards.Contains(id);

        public void Block(FixedVisit visit, PlanningSetting s)
        {
            var start = TimeOnly.FromDateTime(visit.Start);
            _taken.Add((start, start.AddMinutes(s.VisitMinutes)));
            if (visit.YardId is { } yard)
                _yards.Add(yard);
        }

        /// <summary>How many more horses of a yard fit in.</summary>
        public int Holds(Guid? yard, PlanningSetting s)
        {
            var (end, last, n) = (_lastEnd, _last, 0);
            while (Slot(yard, end, last, s) is { } at)
            {
                n++;
                (end, last) = (at.AddMinutes(s.VisitMinutes), yard);
            }

            return n;
        }

        public TimeOnly Take(Guid? yard, PlanningSetting s)
        {
            var at = Slot(yard, _lastEnd, _last, s) ?? throw new InvalidOperationException("the day is full");
            (_lastEnd, _last) = (at.AddMinutes(s.VisitMinutes), yard);
            if (yard is { } id)
                _yards.Add(id);
            return at;
        }

        /// <summary>The next free time from here on, with the way to another yard before it.</summary>
        private TimeOnly? Slot(Guid? yard, TimeOnly from, Guid? last, PlanningSetting s)
        {
            var travel = yard is not null && yard == last ? 0 : s.YardMinutes;
            var at = from.AddMinutes(travel, out var days);
            if (days != 0)
                return null;
            foreach (var (start, end) in _taken.OrderBy(t => t.From))
            {
                if (at.AddMinutes(s.VisitMinutes) <= start.AddMinutes(-s.YardMinutes) || at >= end.AddMinutes(s.YardMinutes))
                    continue;
                at = end.AddMinutes(s.YardMinutes);
            }

            var ends = at.AddMinutes(s.VisitMinutes, out days);
            return days != 0 || ends > s.End ? null : at;
        }
    }
}
