using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.History.Horses;

/// <summary>From what a hand or a script entered to the events of a visit, each entry judged on its own; the first bad one refuses the
/// whole visit.</summary>
internal static class VisitEntries
{
    private const int MostEntries = 200;

    public static Decided Enter(Guid visitId, IReadOnlyList<VisitEntry> entries, DateTimeOffset takenAt, Guid by)
    {
        if (entries.Count > MostEntries)
            return Decided.No("too-many-entries", $"{entries.Count} entries in one visit; at most {MostEntries} are taken at once.");
        if (entries.DistinctBy(e => e.EntryId).Count() != entries.Count)
            return HorseRefusals.EntryExists;
        var events = new List<object>(entries.Count);
        var beside = new List<object>();
        var fits = new List<TracingFit>();
        for (var i = 0; i < entries.Count; i++)
        {
            var decided = Enter(visitId, entries[i], takenAt, by);
            if (decided.Refused is { } bad)
                return bad with { Place = $"entries[{i}]" };
            events.AddRange(decided.Events);
            beside.AddRange(decided.SideDocuments);
            if (entries[i] is TracingEntry traced)
                fits.Add(traced.Fit);
        }

        return Decided.Yes(events).With(beside).Having(fits);
    }

    private static Decided Enter(Guid visitId, VisitEntry entry, DateTimeOffset at, Guid by) =>
        entry switch
        {
            TracingEntry t => Trace(visitId, t, at, by),
            ReadingEntry r => Read(visitId, r, at, by),
            ConditionEntry c => Judged(new ConditionScored(visitId, c.EntryId, c.Score, at, by)),
            MuscleEntry m => Muscle(visitId, m, at, by),
            WeightEntry w => Judged(new Weighed(visitId, w.EntryId, w.Kilograms, at, by)),
            GirthEntry g => Judged(new GirthTaped(visitId, g.EntryId, g.GirthMm, g.LengthMm, at, by)),
            HeightEntry h => Judged(new HeightMeasured(visitId, h.EntryId, h.WithersMm, h.CroupMm, at, by)),
            NoteEntry n => Note(visitId, n, at, by),
            _ => throw new ArgumentException($"no rule for {entry.GetType().Name}", nameof(entry)),
        };

    private static Decided Judged(IVisitEntryEvent e) => PlausibleEntries.Problem(e) is { } bad ? bad : Decided.Yes(e);

    private static Decided Trace(Guid visitId, TracingEntry entry, DateTimeOffset at, Guid by)
    {
        var taken = entry.Tracing;
        if (taken.Points.Length > TracingLimits.MostPoints)
            return Decided.No(
                "too-many-points",
                $"{taken.Points.Length} points in one tracing; at most {TracingLimits.MostPoints} are taken. Thin it out."
            );
        if (taken.Kind == TracingKind.CrossSection && string.IsNullOrWhiteSpace(taken.Station))
            return Decided.No("no-station", "A cross-section needs the station at which it was traced.");
        if (taken.Station?.Length > 60)
            return Decided.No("no-station", "A station's key has at most 60 letters.");
        if (entry.Fit.Refused is { } bad)
            return Decided.No(bad.Code, bad.Message);
        if (entry.Calibration?.Check() is { } unusable)
            return unusable;

        var mm = entry.Fit.Tracing;
        IReadOnlyList<Point>? level = mm.Level is { } l ? [l.From, l.To] : null;
        return mm.Kind == TracingKind.CrossSection
            ? Decided.Yes(
                new CrossSectionTraced(
                    visitId,
                    entry.EntryId,
                    mm.Station!.Trim(),
                    mm.Points,
                    mm.Midline,
                    level,
                    mm.Marks,
                    mm.Noise,
                    at,
                    by,
                    entry.Calibration
                )
            )
            : Decided.Yes(
                new ToplineTraced(visitId, entry.EntryId, mm.Points, level, mm.Marks, mm.TailLeft, mm.Noise, at, by, entry.Calibration)
            );
    }

    private static Decided Read(Guid visitId, ReadingEntry r, DateTimeOffset at, Guid by)
    {
        if (Readings.Find(r.Measure) is not { } kind)
            return Decided.No(
                "unknown-reading",
                $"'{r.Measure}' is no reading. Known: {string.Join(", ", Readings.All.Select(k => k.Key))}."
            );
        if (kind.AtStation && string.IsNullOrWhiteSpace(r.Station))
            return Decided.No("no-station", $"{kind.Key} needs the station at which it was read.");
        var station = kind.AtStation ? r.Station!.Trim() : null;
        return Judged(new ReadingTaken(visitId, r.EntryId, kind.Key, station, r.Value, kind.Range.Unit, at, by));
    }

    private static Decided Muscle(Guid visitId, MuscleEntry m, DateTimeOffset at, Guid by)
    {
        if (m.Site is not ("neck" or "back" or "hind"))
            return Decided.No("unknown-site", "Muscle is scored at neck, back or hind.");
        if (m.Scale != MuscleScales.BuiltIn)
            return Decided.No("unknown-scale", $"The scale '{m.Scale}' is not known here; built in is '{MuscleScales.BuiltIn}'.");
        return Judged(new MuscleScored(visitId, m.EntryId, m.Site, m.Scale, m.Score, at, by));
    }

    private static Decided Note(Guid visitId, NoteEntry n, DateTimeOffset at, Guid by)
    {
        if (Notes.Note.OfWords(n.Words) is { } tooLong)
            return tooLong;
        return Notes.Note.From(n.EntryId, n.Words, null, by, at) is { } note
            ? Decided.Yes(new VisitNoted(visitId, n.EntryId, note.Id, at, by)).With(note)
            : Decided.No("no-words", "A note needs words.", place: "words");
    }
}
