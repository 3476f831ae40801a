using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.Shape;

namespace BackHistory.Application.Imports;

/// <summary>The entries of a visit that one line holds, each with the field that it stands in.</summary>
internal static class VisitLine
{
    /// <param name="id">An entry's id from what it is: the same line again is the same entry.</param>
    /// <param name="station">A key of the protocol, or null.</param>
    public static IReadOnlyList<(VisitEntry Entry, string Field)> Entries(SheetLine line, string? station, Func<string, Guid> id)
    {
        var entries = new List<(VisitEntry, string)>();
        foreach (var reading in Readings.All)
        {
            if (line.Value(reading.Key) is { } value)
                entries.Add(
                    (new ReadingEntry(Id(reading.Key, station, value), reading.Key, reading.AtStation ? station : null, value), reading.Key)
                );
        }

        if (line.Points("tracing") is { } section)
            entries.Add((new TracingEntry(Traced("tracing", section), Of(TracingKind.CrossSection, section)), "tracing"));
        if (line.Points("topline") is { } topline)
            entries.Add((new TracingEntry(Traced("topline", topline), Of(TracingKind.Topline, topline)), "topline"));
        if (line.Value("condition") is { } score)
            entries.Add((new ConditionEntry(Id("condition", null, score), score), "condition"));
        foreach (var site in (string[])["neck", "back", "hind"])
        {
            if (line.Value($"muscle-{site}") is { } muscle)
                entries.Add((new MuscleEntry(Id("muscle", site, muscle), site, MuscleScales.BuiltIn, muscle), $"muscle-{site}"));
        }

        if (line.Kilograms("weight") is { } kilograms)
            entries.Add((new WeightEntry(Id("weight", null, kilograms), kilograms), "weight"));
        if (line.Millimetres("height") is { } height)
            entries.Add((new HeightEntry(Id("height", null, height), (int)Math.Round(height), null), "height"));
        var (girth, length) = (line.Millimetres("girth"), line.Millimetres("length"));
        if (girth is not null && length is not null)
            entries.Add((new GirthEntry(Id("girth", null, girth.Value + length.Value), girth.Value, length.Value), "girth"));
        else if (girth is not null)
            line.Refuse(
                "girth",
                new History.Refused("no-length", "A girth by tape needs the length beside it: the weight is estimated from both.")
            );
        else if (length is not null)
            line.Refuse(
                "length",
                new History.Refused("no-girth", "A length by tape needs the girth beside it: the weight is estimated from both.")
            );
        return entries;

        Tracing Of(TracingKind kind, TracedCell cell) =>
            new()
            {
                Kind = kind,
                Station = kind == TracingKind.CrossSection ? station : null,
                Points = [.. cell.Points],
                Marks = cell.Marks,
            };

        // The same line again is the same entry, and two lines at one station are two.
        Guid Traced(string kind, TracedCell cell)
        {
            var points = cell.Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:R} {p.Y:R}"));
            return id($"{kind} {station} {string.Join(';', points)}");
        }

        Guid Id(string kind, string? of, double value) => id(string.Create(CultureInfo.InvariantCulture, $"{kind} {of} {value:R}"));
    }
}
