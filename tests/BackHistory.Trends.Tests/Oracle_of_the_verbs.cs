using System.Text.Json.Nodes;
using BackHistory.Trends.Lines;

namespace BackHistory.Trends.Tests;

public class Oracle_of_the_verbs
{
    [Fact, Trait("source", "oracle cases: Gaussian-process regression by generalised least squares in 50 digits")]
    public void Trend_lines_agree_with_generalised_least_squares_in_fifty_digits() => Hold("trend", TrendLine.Answer, atLeast: 387);

    [Fact, Trait("source", "oracle cases: published tables and a general numerical library")]
    public void Repeatability_lines_agree_with_published_tables() => Hold("repeatability", RepeatabilityLine.Answer, atLeast: 37);

    static void Hold(string verb, Func<string, int, (string Json, bool Refused)> answer, int atLeast)
    {
        var (expected, lines) = Oracle.Load(verb);
        var answers = lines.Select((l, i) => (JsonObject)JsonNode.Parse(answer(l, i + 1).Json)!).ToList();
        var checks = Oracle.Run(expected, answers);
        Assert.True(checks.Count >= atLeast, $"only {checks.Count} checks were made");
        var broken = checks.Where(c => !c.Holds).Select(c => $"{c.Case} {c.Key}: got {c.Got}, expected {c.Expected}").ToList();
        Assert.True(broken.Count == 0, string.Join('\n', broken));
    }

    [Theory, InlineData("trend"), InlineData("repeatability")]
    public void The_oracle_itself_fails_on_missing_and_on_wrong_answers(string verb)
    {
        var (expected, lines) = Oracle.Load(verb);
        var none = Oracle.Run(expected, []);
        Assert.All(none, c => Assert.False(c.Holds, $"{c.Case} {c.Key} holds without an answer"));
        var shifted = lines
            .Select((l, i) => Shifted(verb == "trend" ? TrendLine.Answer(l, i).Json : RepeatabilityLine.Answer(l, i).Json))
            .ToList();
        var numbers = Oracle.Run(expected, shifted).Where(c => c.Expected.Contains("\"value\"", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(numbers);
        Assert.All(numbers, c => Assert.False(c.Holds, $"{c.Case} {c.Key} holds although every number was moved by 1000"));
    }

    static JsonObject Shifted(string json)
    {
        var answer = (JsonObject)JsonNode.Parse(json)!;
        Shift(answer);
        return answer;

        static void Shift(JsonObject o)
        {
            foreach (var (key, node) in o.ToList())
            {
                if (node is JsonObject inner)
                    Shift(inner);
                else if (node?.GetValueKind() == System.Text.Json.JsonValueKind.Number)
                    o[key] = node.GetValue<double>() + 1000;
            }
        }
    }
}
