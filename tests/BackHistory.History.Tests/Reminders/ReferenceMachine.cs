using BackHistory.History.Horses;
using BackHistory.History.Reminders;

namespace BackHistory.History.Tests.Reminders;

/// <summary>
/// The life of reminders written down a second time, as small as it can be said: three slots (vet, shape, calendar) for one horse and one
/// saddle, each empty or holding one item. It knows nothing of events, streams, ids or letters' texts.
/// </summary>
internal sealed class ReferenceMachine(ModelWorld world)
{
    private static readonly ReminderFamily[] Slots = [ReminderFamily.Vet, ReminderFamily.Shape, ReminderFamily.Calendar];

    internal sealed class Item
    {
        public required ReminderFamily Family { get; init; }
        public required DateTimeOffset Raised { get; init; }
        public required DateOnly? Baseline { get; init; }
        public ReminderState State { get; set; }
        public ReminderState Before { get; set; }
        public bool Covered { get; set; }
        public DateOnly? Until { get; set; }
        public DateTimeOffset? Booked { get; set; }
        public bool Answered { get; set; }
        public int Findings { get; set; }
        public int Escalations { get; set; }
        public DateOnly? Overdue { get; set; }

        /// <summary>The visit that ended it.</summary>
        public Guid? EndedBy { get; set; }

        /// <summary>As it would be if nothing silenced it.</summary>
        public ReminderState Own
        {
            get => State == ReminderState.Muted ? Before : State;
            set
            {
                if (State == ReminderState.Muted)
                    Before = value;
                else
                    State = value;
            }
        }
    }

    private readonly Dictionary<ReminderFamily, (DateOnly? Baseline, DateOnly Until)> _quiet = [];

    /// <summary>What ended last in a slot by a visit or work, and which: it goes on should that turn out a mistake.</summary>
    private readonly Dictionary<ReminderFamily, (Item Item, Guid By)> _ended = [];

    public Dictionary<ReminderFamily, Item> Items { get; } = [];

    public int Raised { get; private set; }

    public bool Ground(ReminderFamily slot) =>
        RuleOn(slot)
        && slot switch
        {
            ReminderFamily.Vet => world.Caution,
            ReminderFamily.Shape => world.Refit,
            _ => world.Due <= world.Today,
        };

    /// <summary>What silences a slot: nothing, a weightier item, or the horse's rest.</summary>
    public (bool Silent, bool Covered) Silence(ReminderFamily slot)
    {
        var covered = Items.Values.Any(i => i.Family < slot && i.State != ReminderState.Pending && !Silence(i.Family).Silent);
        return (covered || (AwaitsVet && slot != ReminderFamily.Vet) || (slot == ReminderFamily.Calendar && world.OutOfWork), covered);
    }

    public bool Quiet(ReminderFamily slot) =>
        _quiet.TryGetValue(slot, out var q) && q.Baseline == BaselineOf(slot) && q.Until > world.Today;

    public void Close(ReminderFamily slot)
    {
        _quiet[slot] = (Items[slot].Baseline, world.Today.AddDays(90));
        Items.Remove(slot);
        AwaitsVet |= slot == ReminderFamily.Vet;
    }

    /// <summary>A caution was ended by hand, and nobody has said that the horse is cleared.</summary>
    public bool AwaitsVet { get; private set; }

    public void Cleared()
    {
        if (Items.TryGetValue(ReminderFamily.Vet, out var standing))
            (_quiet[ReminderFamily.Vet], _) = ((standing.Baseline, world.Today.AddDays(90)), Items.Remove(ReminderFamily.Vet));
        AwaitsVet = false;
    }

    /// <summary>Whatever follows by itself, until nothing follows any more.</summary>
    public void Settle()
    {
        for (var round = 0; End() | Begin() | Go(); round++)
            Assert.True(round < 10, "the reference goes round in circles");
    }

    private bool End()
    {
        var gone = Items.Values.Where(i => Gone(i)).ToList();
        foreach (var i in gone)
        {
            Items.Remove(i.Family);
            if (i.EndedBy is { } visit)
                _ended[i.Family] = (i, visit);
        }

        return gone.Count > 0;
    }

    private bool Gone(Item i)
    {
        if (i.State == ReminderState.Pending)
            return !Ground(i.Family);
        if (!RuleOn(i.Family))
            return true;
        var visited = world.Standing.Any(v => v.TakenAt > i.Raised);
        var corrected = world.LastCorrection > i.Raised;
        // Whoever was told of a day waits for it: only what is done on that day ends it.
        var coming = i.Booked > world.Now && i.Own == ReminderState.Booked;
        var by = world.Standing.Where(v => v.TakenAt > i.Raised).MaxBy(v => v.TakenAt);
        if (coming)
        {
            var day = ZoneClock.Day(i.Booked!.Value, TimeZoneInfo.Utc);
            visited = by is not null && ZoneClock.Day(by.TakenAt, TimeZoneInfo.Utc) >= day;
        }

        if (i.Family == ReminderFamily.Calendar)
        {
            if (!visited && (coming || by is not null || world.Due <= world.Today))
                return false;
            var late = world.Standing.Where(v => v.RecordedAt > i.Raised).MaxBy(v => v.TakenAt);
            i.EndedBy = (by ?? late)?.Id;
            return true;
        }

        if (world.Fit.TakenAt > i.Raised)
        {
            if (coming && ZoneClock.Day(world.Fit.TakenAt, TimeZoneInfo.Utc) < ZoneClock.Day(i.Booked!.Value, TimeZoneInfo.Utc))
                return false;
            if (i.Family == ReminderFamily.Vet)
                AwaitsVet = false;
            return true;
        }

        if (
            i.Family == ReminderFamily.Vet
            && world.Care.Any(c => c.Kind == CareKind.Veterinary && c.From >= ZoneClock.Day(i.Raised, TimeZoneInfo.Utc))
        )
        {
            _quiet[i.Family] = (i.Baseline, world.Today.AddDays(90));
            AwaitsVet = true;
            return true;
        }

        if (Ground(i.Family) || !(visited || (corrected && !coming)))
            return false;
        if (visited)
            i.EndedBy = by!.Id;
        // A later caution that ends by its visit or by work ends what an earlier one left; one that was a mistake says nothing.
        if (i.Family == ReminderFamily.Vet && visited)
            AwaitsVet = false;
        return true;
    }

    private bool Begin()
    {
        var any = false;
        foreach (var slot in Slots)
        {
            if (
                Items.TryGetValue(slot, out var waiting)
                && waiting.State == ReminderState.Pending
                && waiting.Until <= world.Today
                && !Silence(slot).Silent
            )
            {
                (waiting.State, waiting.Until, waiting.Findings) = (ReminderState.Open, null, waiting.Findings + 1);
                any = true;
            }

            if (Items.ContainsKey(slot) || !Ground(slot) || Silence(slot).Silent || Quiet(slot))
                continue;
            // What ended the last of the same ground was a mistake: what was answered and arranged goes on.
            var before =
                _ended.TryGetValue(slot, out var ended)
                && ended.Item.Baseline == BaselineOf(slot)
                && world.Standing.All(v => v.Id != ended.By)
                    ? ended.Item
                    : null;
            _ended.Remove(slot);
            var hold = before is null ? HoldDays(slot) : 0;
            var item = new Item
            {
                Family = slot,
                Raised = world.Now,
                Baseline = BaselineOf(slot),
                State = hold > 0 ? ReminderState.Pending : ReminderState.Open,
            };
            if (hold > 0)
                item.Until = world.Today.AddDays(hold);
            else
            {
                item.Findings = 1;
                // A date that was made for something lesser is kept.
                var booked = Items
                    .Values.Where(i => i.Family > slot && i.State == ReminderState.Booked && i.Booked > world.Now)
                    .MinBy(i => i.Family);
                booked ??= before is { Own: ReminderState.Booked } && before.Booked > world.Now ? before : null;
                if (booked is not null)
                    (item.State, item.Booked) = (ReminderState.Booked, booked.Booked);
                else if (before is { Own: ReminderState.PutOff } && before.Until > world.Today)
                    (item.State, item.Until) = (ReminderState.PutOff, before.Until);
                item.Answered = before?.Answered == true;
                if (before is not null && (item.Answered || item.State != ReminderState.Open))
                    item.Findings = 0;
            }

            Items[slot] = item;
            Raised++;
            any = true;
        }

        return any;
    }

    private bool Go()
    {
        var any = false;
        foreach (var i in Items.Values.OrderBy(i => i.Family).ToList())
            any |= Go(i);
        return any;
    }

    private bool Go(Item i)
    {
        var (silent, covered) = Silence(i.Family);
        if (i.State == ReminderState.Pending)
            return false;
        if (i.State == ReminderState.Muted)
        {
            if (silent)
                return i.Covered != covered && (i.Covered = covered) == covered;
            i.State = i.Before;
            return true;
        }

        if (silent)
        {
            (i.Before, i.State, i.Covered) = (i.State, ReminderState.Muted, covered);
            return true;
        }

        if (i.State == ReminderState.PutOff && i.Until <= world.Today)
        {
            (i.State, i.Until, i.Answered, i.Overdue, i.Findings) = (ReminderState.Open, null, false, null, i.Findings + 1);
            return true;
        }

        if (i.State == ReminderState.Booked && ZoneClock.Day(i.Booked!.Value, TimeZoneInfo.Utc).AddDays(2) <= world.Today)
        {
            (i.State, i.Booked) = (ReminderState.Open, null);
            return true;
        }

        if (i.State == ReminderState.Open && !i.Answered && i.Overdue <= world.Today)
        {
            (i.Overdue, i.Escalations) = (null, i.Escalations + 1);
            return true;
        }

        return false;
    }

    private bool RuleOn(ReminderFamily slot) =>
        slot switch
        {
            ReminderFamily.Vet => world.Rules.VetCaution.On,
            ReminderFamily.Shape => world.Rules.ShapeChanged.On,
            _ => world.Rules.CheckDue.On,
        };

    private int HoldDays(ReminderFamily slot) =>
        slot switch
        {
            ReminderFamily.Vet => world.Rules.VetCaution.HoldDays,
            ReminderFamily.Shape => world.Rules.ShapeChanged.HoldDays,
            _ => world.Rules.CheckDue.HoldDays,
        };

    private DateOnly? BaselineOf(ReminderFamily slot) => slot == ReminderFamily.Calendar ? null : world.Baseline;
}
