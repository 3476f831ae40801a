using System.Text.Json;
using BackHistory.Shape.Wire;

namespace BackHistory.Shape.Tests;

/// <summary>Exact curves in closed form or by quadrature, made independently of this program; the rules are those of the checker that
/// came with them.</summary>
[Trait("source", "independent oracle: closed forms and quadrature")]
public sealed class OracleTests
{
    private static readonly Dictionary<string, JsonElement> Answers = AnswerAll();
    private static readonly JsonElement Expected = Read(TestData.PathTo("oracle", "measure.expected.json"));

    public static TheoryData<string> Cases() => [.. Expected.GetProperty("order").EnumerateArray().Select(id => id.GetString()!)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_measure_flag_and_refusal_of_the_case_holds(string id)
    {
        var (expected, answer) = (Expected.GetProperty("cases").GetProperty(id), Answers[id]);
        var failures = Check(expected, answer, out var checks).ToList();
        Assert.Empty(failures);
        Assert.True(checks > 0, $"the case {id} checks nothing");
    }

    [Fact]
    public void Six_hundred_and_four_checks_stand_in_the_file()
    {
        var total = 1 + Expected.GetProperty("order").GetArrayLength() - Expected.GetProperty("noId").GetArrayLength();
        foreach (var one in Expected.GetProperty("cases").EnumerateObject())
        {
            _ = Check(one.Value, Answers[one.Name], out var checks).ToList();
            total += checks;
        }
        Assert.Equal(604, total);
    }

    private static Dictionary<string, JsonElement> AnswerAll()
    {
        var order = Read(TestData.PathTo("oracle", "measure.expected.json"))
            .GetProperty("order")
            .EnumerateArray()
            .Select(id => id.GetString()!)
            .ToArray();
        var lines = File.ReadAllLines(TestData.PathTo("oracle", "measure.jsonl"));
        Assert.Equal(order.Length, lines.Length);
        var noId = Read(TestData.PathTo("oracle", "measure.expected.json"))
            .GetProperty("noId")
            .EnumerateArray()
            .Select(id => id.GetString()!)
            .ToHashSet(StringComparer.Ordinal);
        var answers = new Dictionary<string, JsonElement>(StringComparer.Ordinal);
        for (var i = 0; i < lines.Length; i++)
        {
            var answer = JsonDocument.Parse(MeasureLine.Answer(lines[i], i + 1).Json).RootElement;
            if (!noId.Contains(order[i]))
                Assert.Equal(order[i], answer.GetProperty("id").GetString());
            answers[order[i]] = answer;
        }
        return answers;
    }

    private static JsonElement Read(string path) => JsonDocument.Parse(File.ReadAllBytes(path)).RootElement;

    private static List<string> Check(JsonElement expected, JsonElement answer, out int checks)
    {
        checks = 0;
        var failures = new List<string>();
        var refused = answer.TryGetProperty("refused", out var refusal) ? refusal.GetProperty("code").GetString() : null;
        if (expected.TryGetProperty("refused", out var code))
        {
            checks++;
            if (refused != code.GetString())
                failures.Add($"refused: got {refused ?? "an answer"}, expected {code}");
            return failures;
        }
        Assert.Null(refused);
        var rows = answer
            .GetProperty("measures")
            .EnumerateArray()
            .ToDictionary(m => m.GetProperty("key").GetString()!, StringComparer.Ordinal);
        foreach (var measure in expected.GetProperty("measures").EnumerateObject())
        {
            checks++;
            if (!rows.TryGetValue(measure.Name, out var row) || !Holds(measure.Value, row))
                failures.Add($"{measure.Name}: got {row}, expected {measure.Value}");
        }
        if (!expected.TryGetProperty("flags", out var flags))
            return failures;
        foreach (var want in flags.TryGetProperty("has", out var has) ? has.EnumerateArray().ToArray() : [])
        {
            checks++;
            if (!answer.GetProperty("flags").EnumerateArray().Any(f => IsFlag(want, f)))
                failures.Add($"no flag {want} among {answer.GetProperty("flags")}");
        }
        foreach (var word in flags.TryGetProperty("none", out var none) ? none.EnumerateArray().ToArray() : [])
        {
            checks++;
            if (answer.GetProperty("flags").ToString().Contains(word.GetString()!, StringComparison.Ordinal))
                failures.Add($"flag {word} in {answer.GetProperty("flags")}");
        }
        return failures;
    }

    private static bool Holds(JsonElement spec, JsonElement row)
    {
        var value = row.GetProperty("value");
        if (spec.TryGetProperty("null", out var reason))
            return value.ValueKind == JsonValueKind.Null
                && (
                    reason.ValueKind != JsonValueKind.String
                    || row.GetProperty("why").GetString()!.Contains(reason.GetString()!, StringComparison.Ordinal)
                );
        if (value.ValueKind != JsonValueKind.Number)
            return false;
        var got = value.GetDouble();
        if (spec.TryGetProperty("value", out var wanted))
            return Math.Abs(got - wanted.GetDouble()) <= spec.GetProperty("tol").GetDouble();
        return (!spec.TryGetProperty("min", out var min) || got >= min.GetDouble())
            && (!spec.TryGetProperty("max", out var max) || got <= max.GetDouble());
    }

    private static bool IsFlag(JsonElement want, JsonElement flag) =>
        flag.GetProperty("flag").GetString() == want.GetProperty("flag").GetString()
        && flag.GetProperty("side").GetString() == want.GetProperty("side").GetString()
        && Math.Abs(flag.GetProperty("length").GetDouble() - want.GetProperty("length").GetDouble()) <= want.GetProperty("tol").GetDouble();
}
