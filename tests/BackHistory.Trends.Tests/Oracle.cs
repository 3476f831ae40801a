using System.Text.Json.Nodes;

namespace BackHistory.Trends.Tests;

/// <summary>
/// The rules by which an answer is held against a case with an independent answer: the same as check.py's, which ships with the cases.
/// </summary>
static class Oracle
{
    static readonly Dictionary<string, string> Aliases = new(StringComparer.Ordinal)
    {
        ["icc11"] = "icc.1,1",
        ["icc21"] = "icc.2,1",
        ["icc31"] = "icc.3,1",
    };

    internal sealed record Check(string Case, string Key, bool Holds, string Got, string Expected);

    internal static (JsonObject Expected, string[] Lines) Load(string verb) =>
        (
            (JsonObject)JsonNode.Parse(TestData.Text($"oracle/{verb}.expected.json"))!,
            [.. TestData.Text($"oracle/{verb}.jsonl").Split('\n').Where(l => !string.IsNullOrWhiteSpace(l))]
        );

    internal static List<Check> Run(JsonObject expected, IReadOnlyList<JsonObject> answers)
    {
        var order = ((JsonArray)expected["order"]!).Select(n => n!.GetValue<string>()).ToList();
        var noId = ((JsonArray)expected["noId"]!).Select(n => n!.GetValue<string>()).ToHashSet(StringComparer.Ordinal);
        var checks = new List<Check> { new("-", "answers", answers.Count == order.Count, $"{answers.Count}", $"{order.Count}") };
        for (var i = 0; i < order.Count; i++)
        {
            var answer = i < answers.Count ? answers[i] : [];
            if (!noId.Contains(order[i]))
                checks.Add(new(order[i], "id", (string?)answer["id"] == order[i], $"{answer["id"]}", order[i]));
            checks.AddRange(Case(order[i], (JsonObject)expected["cases"]![order[i]]!, answer));
        }
        return checks;
    }

    static IEnumerable<Check> Case(string id, JsonObject expected, JsonObject answer)
    {
        var (isRefused, code) = Dig(answer, "refused.code");
        if (expected["refused"] is { } refusal)
        {
            yield return new(id, "refused", isRefused && (string?)code == refusal.GetValue<string>(), $"{code}", $"{refusal}");
            yield break;
        }
        foreach (var (path, spec) in (JsonObject?)expected["values"] ?? [])
        {
            var (found, got) = Get(answer, path);
            if (
                !found
                && ((JsonObject)spec!).ContainsKey("null")
                && path.Contains('.', StringComparison.Ordinal)
                && Dig(answer, path[..path.LastIndexOf('.')]) is (true, null)
            )
                found = true;
            yield return new(
                id,
                path,
                Holds((JsonObject)spec!, found, got),
                found ? got?.ToJsonString() ?? "null" : "absent",
                spec!.ToJsonString()
            );
        }
        foreach (var (name, paths) in (JsonObject?)expected["ascending"] ?? [])
        {
            var texts = ((JsonArray)paths!)
                .Select(p => p!.GetValue<string>())
                .Select(p => p[0] == '=' ? p[1..] : (string?)Get(answer, p).Node)
                .OfType<string>()
                .ToList();
            var ok = !isRefused && answer.Count > 0 && texts.Zip(texts.Skip(1)).All(p => string.CompareOrdinal(p.First, p.Second) <= 0);
            yield return new(id, name, ok, string.Join(' ', texts), "ascending");
        }
        if (expected["answered"] is not null)
            yield return new(id, "answered", !isRefused && answer.Count > 0, $"{code}", "an answer");
    }

    static bool Holds(JsonObject spec, bool found, JsonNode? got)
    {
        if (spec.ContainsKey("null"))
            return found && got is null;
        if (!found || got is null)
            return false;
        if (spec["equals"] is { } equal)
            return JsonNode.DeepEquals(equal, got);
        if (spec["among"] is JsonArray among)
            return among.Any(a => JsonNode.DeepEquals(a, got));
        if (spec["date"] is { } date)
            return got.GetValueKind() == System.Text.Json.JsonValueKind.String
                && Math.Abs(Day(got.GetValue<string>()) - Day(date.GetValue<string>())) <= spec["days"]!.GetValue<double>();
        if (got.GetValueKind() != System.Text.Json.JsonValueKind.Number)
            return false;
        var number = got.GetValue<double>();
        if (spec["value"] is { } value)
            return Math.Abs(number - value.GetValue<double>()) <= spec["tol"]!.GetValue<double>();
        if (spec["min"] is null && spec["max"] is null)
            throw new InvalidOperationException($"A rule that this test does not know: {spec.ToJsonString()}");
        return (spec["min"]?.GetValue<double>() ?? double.NegativeInfinity) <= number
            && number <= (spec["max"]?.GetValue<double>() ?? double.PositiveInfinity);
    }

    static int Day(string text) =>
        DateOnly.ParseExact(text[..10], "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture).DayNumber;

    static (bool Found, JsonNode? Node) Get(JsonObject answer, string path)
    {
        var found = Dig(answer, path);
        return !found.Found && Aliases.TryGetValue(path, out var alias) ? Dig(answer, alias) : found;
    }

    static (bool Found, JsonNode? Node) Dig(JsonObject answer, string path)
    {
        JsonNode? node = answer;
        foreach (var step in path.Split('.'))
        {
            if (node is not JsonObject o || !o.TryGetPropertyValue(step, out node))
                return (false, null);
        }
        return (true, node);
    }
}
