using System.Text.Json;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Lines;

/// <summary>One line of the verb <c>trend</c>, read and checked.</summary>
internal sealed record TrendRequest(
    string Id,
    IReadOnlyList<Observation> Points,
    NoiseLayers Noise,
    double? Q,
    double At,
    double? Baseline,
    double? Threshold
)
{
    internal const int MostPoints = 10_000,
        MostHands = 200;
    static readonly string[] Fields = ["id", "sd", "visitSd", "personSd", "points", "q", "at", "baseline", "threshold"];
    static readonly string[] PointFields = ["t", "y", "sd", "by"];

    internal static TrendRequest? Read(JsonElement root, LineReader reader)
    {
        if (!reader.Object(root, "the line", Fields))
            return null;
        var id = AnswerLine.IdOf(root);
        if (id is null)
            reader.Refuse(RefusalCode.Unreadable, "The line has no 'id' that is a string.");
        var sd = PositiveSd(reader.Number(root, "sd", "the line"), "sd of the line", reader);
        var visitSd = LayerSd(reader.Number(root, "visitSd", "the line"), "visitSd", reader);
        var personSd = LayerSd(reader.Number(root, "personSd", "the line"), "personSd", reader);
        var points = ReadPoints(root, sd, reader);
        var q = NotNegative(reader.Number(root, "q", "the line"), "q", reader);
        var at = reader.Day(root, "at", "the line");
        var baseline = reader.Day(root, "baseline", "the line");
        var threshold = NotNegative(reader.Number(root, "threshold", "the line"), "threshold", reader);
        if (reader.Fault is not null)
            return null;
        return new(id!, points, new(visitSd, personSd), q, at ?? points.Max(p => p.Day), baseline, threshold);
    }

    static List<Observation> ReadPoints(JsonElement root, double? seriesSd, LineReader reader)
    {
        var points = new List<Observation>();
        if (!root.TryGetProperty("points", out var array))
        {
            reader.Refuse(RefusalCode.Unreadable, "Missing field 'points' in the line.");
            return points;
        }
        if (array.ValueKind != JsonValueKind.Array)
        {
            reader.Refuse(RefusalCode.Unreadable, "The points are not an array.");
            return points;
        }
        var count = array.GetArrayLength();
        if (count == 0)
            reader.Refuse(RefusalCode.NoPoints, "A trend needs at least one point.");
        if (count > MostPoints)
        {
            reader.Refuse(RefusalCode.Unreadable, $"{count} points; a line holds at most {MostPoints}.");
            return points;
        }
        foreach (var element in array.EnumerateArray())
            ReadPoint(element, $"point {points.Count + 1}", seriesSd, points, reader);
        if (points.Select(p => p.By).Distinct(StringComparer.Ordinal).Count() > MostHands + 1)
            reader.Refuse(RefusalCode.Unreadable, $"More than {MostHands} different 'by'; is it a name?");
        return points;
    }

    static void ReadPoint(JsonElement element, string what, double? seriesSd, List<Observation> points, LineReader reader)
    {
        if (!reader.Object(element, what, PointFields))
            return;
        var day = reader.Day(element, "t", what, needed: true);
        var value = reader.Number(element, "y", what, needed: true);
        var own = PositiveSd(reader.Number(element, "sd", what), $"sd of {what}", reader);
        var by = reader.Text(element, "by", what);
        if ((own ?? seriesSd) is null && !element.TryGetProperty("sd", out _))
            reader.Refuse(RefusalCode.BadSd, $"Neither the line nor {what} gives an sd.");
        points.Add(new(day ?? 0, value ?? 0, own ?? seriesSd ?? 1, by));
    }

    static double? PositiveSd(double? sd, string what, LineReader reader)
    {
        // A square that underflows to zero would claim a perfect observation.
        if (sd is { } s && !(s > 0 && s * s > 0))
            reader.Refuse(RefusalCode.BadSd, $"The {what} is not above zero.");
        return sd;
    }

    static double LayerSd(double? sd, string name, LineReader reader)
    {
        if (sd < 0)
            reader.Refuse(RefusalCode.BadSd, $"{name} is negative.");
        return sd ?? 0;
    }

    static double? NotNegative(double? value, string name, LineReader reader)
    {
        if (value < 0)
            reader.Refuse(RefusalCode.Unreadable, $"{name} is negative.");
        return value;
    }
}
