using BackHistory.Application.Horses;
using BackHistory.Application.Saddles;
using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What entering a line does: a document beside the events, or one command on one stream. Null where its content is here
/// already.</summary>
internal abstract record LineStep
{
    /// <summary>A person or a yard, which are documents because they must be erasable.</summary>
    public sealed record Keep(object Document, MadeByImport Made) : LineStep;

    public sealed record Register(EnterHorse.Input Given) : LineStep
    {
        public MadeByImport Made { get; } = new(MadeAs.Horse, Given.HorseId, Given.HorseId);

        public (Decided, IReadOnlyList<MadeByImport>) Decide(Horse? horse, Caller by) =>
            horse is null ? (EnterHorse.Decide(horse, Given, by), [Made]) : (Decided.Yes(), []);
    }

    public sealed record RegisterOne(EnterSaddle.Input Given) : LineStep
    {
        public MadeByImport Made { get; } = new(MadeAs.Saddle, Given.SaddleId, Given.SaddleId);

        public (Decided, IReadOnlyList<MadeByImport>) Decide(Saddle? saddle, Caller by) =>
            saddle is null ? (EnterSaddle.Decide(saddle, Given, by), [Made]) : (Decided.Yes(), []);
    }

    /// <summary>Work on a saddle for a horse; both are known already.</summary>
    /// <param name="Gauges">Of the practice, in which settings are read.</param>
    public sealed record Worked(Guid SaddleId, RecordWork Work, IReadOnlyDictionary<string, GaugeTable> Gauges) : LineStep
    {
        public MadeByImport Made { get; } = new(MadeAs.Work, SaddleId, Work.WorkId);

        /// <param name="horse">For which it was done, as it stands.</param>
        public (Decided, IReadOnlyList<MadeByImport>) Decide(Saddle? saddle, Horse? horse, Caller by) =>
            saddle?.Work.Any(w => w.WorkId == Work.WorkId) == true
                ? (Decided.Yes(), [])
                : (EnterSaddleWork.Decide(saddle, Work, horse, by, Gauges), [Made]);
    }

    /// <summary>A visit, or what a further line adds to it.</summary>
    /// <param name="Zone">The practice's: by its days a visit is of a day.</param>
    public sealed record Measured(Guid HorseId, RecordVisit Visit, TimeZoneInfo Zone) : LineStep
    {
        private static readonly Refused ThatDay = new(
            "visit-that-day",
            "A visit of this day by the same hands stands already and was not imported: enter the rest by hand, or withdraw it first.",
            RefusalKind.Conflict
        );

        public (Decided, IReadOnlyList<MadeByImport>) Decide(Horse? horse, Caller by)
        {
            if (horse is not null && horse.Visits.TryGetValue(Visit.VisitId, out var known))
            {
                var more = Visit.Entries.Where(e => !known.Entries.ContainsKey(e.EntryId)).ToList();
                return more.Count == 0
                    ? (Decided.Yes(), [])
                    : (
                        EnterMore.Decide(horse, new AddEntries(Visit.VisitId, more, Visit.By), by),
                        [.. more.Select(e => new MadeByImport(MadeAs.Entry, HorseId, e.EntryId))]
                    );
            }

            var day = ZoneClock.Day(Visit.TakenAt, Zone);
            if (horse?.Visits.Values.Any(v => !v.Withdrawn && v.By == Visit.By && ZoneClock.Day(v.TakenAt, Zone) == day) == true)
                return (ThatDay, []);
            return (EnterVisit.Decide(horse, Visit, by), [new MadeByImport(MadeAs.Visit, HorseId, Visit.VisitId)]);
        }
    }

    /// <summary>A gauge with the marks of all its lines.</summary>
    /// <param name="Over">The version in use under its key that may be replaced; 0 where none is in use.</param>
    public sealed record Gauged(Guid PracticeId, ChangeGaugeTable Table, int Over, ImportedGauge Entered) : LineStep
    {
        private static readonly Refused StandsNow = new(
            "gauge-stands",
            "A gauge of this key was entered or changed meanwhile, and is left as it is. Send the table in again to be asked about it.",
            RefusalKind.Conflict
        );

        public MadeByImport Made => Entered.Made(PracticeId);

        public (Decided, IReadOnlyList<MadeByImport>) Decide(Practice? practice, Caller by)
        {
            var stands = practice?.Gauges.GetValueOrDefault(Table.Key) is { Retired: false } one ? one : null;
            if (stands is not null && ImportedGauge.IsSame(stands, Table))
                return (Decided.Yes(), []);
            return (stands?.Version ?? 0) == Over ? (PracticeDecider.Decide(practice, Table, by.Context.Now), [Made]) : (StandsNow, []);
        }
    }

    /// <summary>What it says is entered with an earlier line, or not at all.</summary>
    public sealed record Beside(int First) : LineStep;
}
