using System.Globalization;
using System.Text.Json;
using BackHistory.Formats.Drawings;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;

namespace BackHistory.Service.Visits;

/// <summary>A visit as it is typed into the page. Everything is text until it is read, so that nothing typed is ever lost.</summary>
public sealed class VisitForm
{
    public string Key { get; set; } = "";

    public string Day { get; set; } = "";

    public string Time { get; set; } = "";

    public string Method { get; set; } = "flexible-curve";

    public bool LevelGround { get; set; }

    public bool StoodSquare { get; set; }

    public bool Ridden { get; set; }

    public bool BodyWork { get; set; }

    public HeadHeight Head { get; set; }

    /// <summary>Who held the horse; empty where nobody said.</summary>
    public Guid? Holder { get; set; }

    public Source Source { get; set; }

    public string? Note { get; set; }

    public string? SlopeLeft { get; set; }

    public string? SlopeRight { get; set; }

    public string SlopeStation { get; set; } = Protocols.UsualStation;

    public string? Condition { get; set; }

    public string? MuscleNeck { get; set; }

    public string? MuscleBack { get; set; }

    public string? MuscleHind { get; set; }

    public string? Weight { get; set; }

    public string? Girth { get; set; }

    public string? Length { get; set; }

    public string TracingStation { get; set; } = Protocols.UsualStation;

    public string TracingKind { get; set; } = "cross-section";

    public VisitConditions Conditions => new(LevelGround, StoodSquare, Head, Ridden, BodyWork, Holder, Source);

    /// <summary>When it was true, in the practice's time zone.</summary>
    public (DateTimeOffset? TakenAt, Refused? Refused) TakenAt(string timeZone)
    {
        if (
            !DateOnly.TryParseExact(Day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            || !TimeOnly.TryParse(Time, CultureInfo.InvariantCulture, out var time)
        )
            return (null, new Refused("bad-date", "Give the day and the time of the visit.", Place: "day"));
        return (PracticeClock.At(day, time, TimeZoneInfo.FindSystemTimeZoneById(timeZone)), null);
    }

    /// <summary>Typed numbers as entries; a tracing file joins them.</summary>
    public (IReadOnlyList<VisitEntry> Entries, Refused? Refused) Entries(Func<Guid> newId, byte[]? file, string? fileName)
    {
        var entries = new List<VisitEntry>();
        Refused? bad = null;
        void Take(string? text, string what, Func<double, VisitEntry> make)
        {
            if (string.IsNullOrWhiteSpace(text) || bad is not null)
                return;
            if (Number(text) is { } value)
                entries.Add(make(value));
            else
                bad = new Refused(
                    "not-a-number",
                    $"{what}: '{text}' is no number. Nothing was saved; what you typed is still here.",
                    Place: what
                );
        }

        Take(SlopeLeft, "slope left", v => new ReadingEntry(newId(), Readings.SlopeLeft, SlopeStation, v));
        Take(SlopeRight, "slope right", v => new ReadingEntry(newId(), Readings.SlopeRight, SlopeStation, v));
        Take(Condition, "condition", v => new ConditionEntry(newId(), v));
        Take(MuscleNeck, "muscle neck", v => new MuscleEntry(newId(), "neck", MuscleScales.BuiltIn, v));
        Take(MuscleBack, "muscle back", v => new MuscleEntry(newId(), "back", MuscleScales.BuiltIn, v));
        Take(MuscleHind, "muscle hind", v => new MuscleEntry(newId(), "hind", MuscleScales.BuiltIn, v));
        Take(Weight, "weight", v => new WeightEntry(newId(), v));
        if (!string.IsNullOrWhiteSpace(Girth) || !string.IsNullOrWhiteSpace(Length))
        {
            if (Number(Girth) is { } girth && Number(Length) is { } length)
                entries.Add(new GirthEntry(newId(), girth * 10, length * 10));
            else
                bad ??= new Refused("not-a-number", "Girth and length go together, both in centimetres.", Place: "girth");
        }

        if (!string.IsNullOrWhiteSpace(Note))
            entries.Add(new NoteEntry(newId(), Note));
        if (bad is null && file is { Length: > 0 })
            bad = AddFile(entries, newId, file, fileName ?? "");
        return bad is null && entries.Count == 0 ? ([], HorseRefusals.NothingEntered) : (entries, bad);
    }

    private Refused? AddFile(List<VisitEntry> entries, Func<Guid> newId, byte[] file, string name)
    {
        if (!name.EndsWith(".csv", StringComparison.OrdinalIgnoreCase))
            return AddJson(entries, newId, file);
        var kind = TracingKind == "topline" ? Shape.TracingKind.Topline : Shape.TracingKind.CrossSection;
        var (tracing, bad) = TracingTable.Read(
            file,
            kind,
            kind == Shape.TracingKind.CrossSection ? TracingStation : null,
            1.0,
            TracingLimits.MostPoints
        );
        if (tracing is not null)
            entries.Add(new TracingEntry(newId(), tracing));
        return bad is null ? null : new Refused(bad.Code, bad.Message, Place: bad.Place);
    }

    /// <summary>JSON Lines in the form of the <c>measure</c> verb, one tracing a line, or one object over several.</summary>
    private static Refused? AddJson(List<VisitEntry> entries, Func<Guid> newId, byte[] file)
    {
        var reader = new Utf8JsonReader(file, new JsonReaderOptions { AllowMultipleValues = true, MaxDepth = 16 });
        try
        {
            while (reader.Read())
            {
                using var document = JsonDocument.ParseValue(ref reader);
                var (entry, refused) = EntryReader.Read(document.RootElement, newId);
                if (refused is not null)
                    return refused with { Place = $"tracing {entries.Count + 1} of the file" };
                entries.Add(entry!);
            }

            return null;
        }
        catch (JsonException)
        {
            return new Refused(
                "unreadable",
                "The tracing file is neither a table x_mm,y_mm (.csv) nor JSON in the form of the measure command.",
                Place: "file"
            );
        }
    }

    /// <summary>A decimal comma is as good as a point here: the field holds one number.</summary>
    private static double? Number(string? text) =>
        double.TryParse((text ?? "").Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
        && double.IsFinite(value)
            ? value
            : null;
}
