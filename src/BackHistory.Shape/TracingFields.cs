using System.Collections.Immutable;
using System.Text.Json;

namespace BackHistory.Shape;

/// <summary>Collects the fields of one tracing in any order, then insists on those that have no default.</summary>
internal sealed class TracingFields
{
    private string? kind,
        station,
        unit,
        yAxis,
        tail;
    private ImmutableArray<Point>? points;
    private Point? midline;
    private LevelLine? level;
    private ImmutableSortedDictionary<string, Point>? marks;
    private double noise = 1.0;

    /// <summary>
    /// False when the name is none of a tracing's fields. A null stands for a field left out, except where a number is due.
    /// </summary>
    internal bool Take(string name, JsonElement value)
    {
        var absent = value.ValueKind == JsonValueKind.Null;
        switch (name)
        {
            case "kind":
                kind = Text(name, value);
                break;
            case "station":
                station = absent ? null : Text(name, value);
                break;
            case "unit":
                unit = Text(name, value);
                break;
            case "yAxis":
                yAxis = Text(name, value);
                break;
            case "tail":
                tail = absent ? null : Text(name, value);
                break;
            case "points":
                points = ReadPoints(value);
                break;
            case "midline":
                midline = absent ? null : ReadPoint(name, value);
                break;
            case "level":
                level = absent ? null : ReadLevel(value);
                break;
            case "marks":
                marks = absent ? null : ReadMarks(value);
                break;
            case "noise":
                noise = Number(name, value);
                break;
            default:
                return false;
        }
        return true;
    }

    internal Tracing ToTracing()
    {
        var topline = OneOf("kind", kind, "cross-section", "topline");
        var down = OneOf("yAxis", yAxis, "up", "down");
        if (!topline && tail is not null)
            throw new UnreadableException("Only a topline has a 'tail'.");
        var left = topline && OneOf("tail", tail, "right", "left");
        return new Tracing
        {
            Kind = topline ? TracingKind.Topline : TracingKind.CrossSection,
            Station = station,
            Unit = unit ?? throw Missing("unit"),
            YAxisDown = down,
            TailLeft = left,
            Points = points ?? throw Missing("points"),
            Midline = midline,
            Level = level,
            Marks = marks ?? ImmutableSortedDictionary<string, Point>.Empty,
            Noise = noise,
        };
    }

    /// <summary>True for the second word, false for the first.</summary>
    private static bool OneOf(string name, string? text, string first, string second) =>
        text is null ? throw Missing(name)
        : text == first ? false
        : text == second ? true
        : throw new UnreadableException($"'{name}' must be '{first}' or '{second}', not '{text}'.");

    private static UnreadableException Missing(string name) => new($"The field '{name}' is missing.");

    private static string Text(string name, JsonElement value) =>
        value.ValueKind == JsonValueKind.String ? value.GetString()! : throw new UnreadableException($"'{name}' must be text.");

    private static ImmutableArray<Point> ReadPoints(JsonElement value)
    {
        if (value.ValueKind != JsonValueKind.Array)
            throw new UnreadableException("'points' must be a list of [x, y].");
        var builder = ImmutableArray.CreateBuilder<Point>(value.GetArrayLength());
        foreach (var item in value.EnumerateArray())
            builder.Add(ReadPoint("points", item));
        return builder.MoveToImmutable();
    }

    private static Point ReadPoint(string name, JsonElement value)
    {
        if (value.ValueKind != JsonValueKind.Array || value.GetArrayLength() != 2)
            throw new UnreadableException($"'{name}' must hold [x, y].");
        return new Point(Number(name, value[0]), Number(name, value[1]));
    }

    private static LevelLine ReadLevel(JsonElement value)
    {
        if (value.ValueKind != JsonValueKind.Array || value.GetArrayLength() != 2)
            throw new UnreadableException("'level' must be two points.");
        return new LevelLine(ReadPoint("level", value[0]), ReadPoint("level", value[1]));
    }

    private static ImmutableSortedDictionary<string, Point> ReadMarks(JsonElement value)
    {
        if (value.ValueKind != JsonValueKind.Object)
            throw new UnreadableException("'marks' must be an object of named points.");
        var builder = ImmutableSortedDictionary.CreateBuilder<string, Point>(StringComparer.Ordinal);
        foreach (var mark in value.EnumerateObject())
            builder[mark.Name] = ReadPoint("marks", mark.Value);
        return builder.ToImmutable();
    }

    /// <summary>A null, or a number beyond a double, is not finite: refused later under its own name.</summary>
    private static double Number(string name, JsonElement value) =>
        value.ValueKind switch
        {
            JsonValueKind.Number => value.TryGetDouble(out var number) ? number : double.PositiveInfinity,
            JsonValueKind.Null => double.NaN,
            _ => throw new UnreadableException($"'{name}' holds something that is not a number."),
        };
}
