using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Service.Visits;

/// <summary>From what is typed to the entry that takes the place of another of its kind.</summary>
internal static class EntryCorrection
{
    private const double MillimetresPerCentimetre = 10;

    /// <summary>The numbers that were entered, as the form shows them.</summary>
    public static (string? Value, string? Second) Typed(IVisitEntryEvent entered) =>
        entered switch
        {
            ReadingTaken r => (Text(r.Value), null),
            ConditionScored c => (Text(c.Score), null),
            MuscleScored m => (Text(m.Score), null),
            Weighed w => (Text(w.Kilograms), null),
            GirthTaped g => (Text(g.GirthMm / MillimetresPerCentimetre), Text(g.LengthMm / MillimetresPerCentimetre)),
            HeightMeasured h => (Text(h.WithersMm / MillimetresPerCentimetre), Text(h.CroupMm / MillimetresPerCentimetre)),
            _ => (null, null),
        };

    /// <returns>Null where a field cannot be taken.</returns>
    public static async Task<VisitEntry?> Read(
        IVisitEntryEvent entered,
        EntryForm form,
        IFormFile? file,
        Guid id,
        EntryFields fields,
        CancellationToken ct
    )
    {
        if (entered is CrossSectionTraced or ToplineTraced)
            return await Tracing(entered, form, file, id, fields, ct);
        if (entered is VisitNoted)
            return string.IsNullOrWhiteSpace(form.Words) ? Missing(fields, "words", "A note needs words.") : new NoteEntry(id, form.Words);
        if (string.IsNullOrWhiteSpace(form.Value))
            return Missing(fields, "value", "Say what it should be, or withdraw the entry.");
        var kind = Readings.Find(form.Measure ?? "");
        return entered switch
        {
            ReadingTaken when kind is null => Missing(fields, "measure", "Choose one of the list."),
            ReadingTaken => fields.Number("value", "Reading", form.Value, kind!.Range, "°") is { } v
                ? new ReadingEntry(id, kind.Key, form.Station, v)
                : null,
            ConditionScored => fields.Number("value", "Condition", form.Value, Plausible.Condition, "", half: true) is { } v
                ? new ConditionEntry(id, v)
                : null,
            MuscleScored m => fields.Number("value", "Muscle", form.Value, Plausible.Muscle, "", half: true) is { } v
                ? new MuscleEntry(id, m.Site, m.Scale, v)
                : null,
            Weighed => fields.Number("value", "Weight", form.Value, Plausible.Weight, " kg") is { } v ? new WeightEntry(id, v) : null,
            GirthTaped => Girth(form, id, fields),
            HeightMeasured => Height(form, id, fields),
            _ => null,
        };
    }

    private static VisitEntry? Missing(EntryFields fields, string field, string why)
    {
        fields.Say(field, why);
        return null;
    }

    private static GirthEntry? Girth(EntryForm form, Guid id, EntryFields fields)
    {
        var girth = fields.Number("value", "Girth", form.Value, Plausible.Taped, " cm", MillimetresPerCentimetre);
        var length = fields.Number("second", "Length", form.Second, Plausible.Taped, " cm", MillimetresPerCentimetre);
        if (string.IsNullOrWhiteSpace(form.Second))
            fields.Say("second", "Girth and length go together.");
        return girth is { } g && length is { } l ? new GirthEntry(id, g, l) : null;
    }

    private static HeightEntry? Height(EntryForm form, Guid id, EntryFields fields)
    {
        var withers = fields.Number("value", "At the withers", form.Value, Plausible.Height, " cm", MillimetresPerCentimetre);
        var croup = fields.Number("second", "At the croup", form.Second, Plausible.Height, " cm", MillimetresPerCentimetre);
        return withers is { } w ? new HeightEntry(id, (int)Math.Round(w), croup is { } c ? (int)Math.Round(c) : null) : null;
    }

    /// <summary>Another file, or the same points at another station.</summary>
    private static async Task<VisitEntry?> Tracing(
        IVisitEntryEvent entered,
        EntryForm form,
        IFormFile? file,
        Guid id,
        EntryFields fields,
        CancellationToken ct
    )
    {
        var (tracing, calibration, station) = entered switch
        {
            CrossSectionTraced c => (History.Horses.Tracings.TracingFrom(c), c.Calibration, form.Station ?? c.Station),
            ToplineTraced t => (History.Horses.Tracings.TracingFrom(t), t.Calibration, null),
            _ => throw new ArgumentException($"no tracing is {entered.GetType().Name}", nameof(entered)),
        };
        if (file is null || file.Length == 0)
        {
            if (entered is not CrossSectionTraced { Station: var before } || station == before)
                return Missing(fields, "file", "Choose another tracing, or withdraw this one.");
            return new TracingEntry(id, tracing with { Station = station }, calibration);
        }

        var (entries, bad) = await TracingFile.Read(file, tracing.Kind, station, () => id, ct);
        if (bad is not null)
            return Missing(fields, "file", bad.Message);
        return entries is [var one] ? one : Missing(fields, "file", "The file holds several tracings: choose one with one.");
    }

    private static string? Text(double? number) => number?.ToString("0.##", CultureInfo.InvariantCulture);
}
