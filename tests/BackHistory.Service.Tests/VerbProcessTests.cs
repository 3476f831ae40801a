using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>The verbs as a script calls them: the executable, its streams and its exit status.</summary>
public sealed class VerbProcessTests
{
    private const string Repeats = """{"id":"r1","subjects":[[31.0,31.8],[28.4,28.1,28.9]]}""";
    private const string Series = """{"id":"s1","sd":1.5,"points":[{"t":"2026-01-10","y":31.2},{"t":"2026-03-12","y":32.9}],"q":0}""";
    private const string TooShort =
        """{"id":"c9","kind":"cross-section","station":"s","unit":"mm","yAxis":"up","points":[[-100,-50],[0,0],[100,-50]]}""";

    [Theory]
    [InlineData("measure")]
    [InlineData("trend")]
    [InlineData("repeatability")]
    public async Task A_verb_answers_each_line_of_a_file_and_ends_with_0(string verb)
    {
        var line = Good(verb);
        var (status, output, error) = await Call(verb, $"{line}\n\n{line}\n", fromFile: true);

        Assert.Equal((0, ""), (status, error));
        var answers = Answers(output);
        Assert.Equal(2, answers.Count);
        Assert.All(
            answers,
            a => Assert.Equal(JsonDocument.Parse(line).RootElement.GetProperty("id").GetString(), a.GetProperty("id").GetString())
        );
        Assert.Equal(answers[0].GetRawText(), answers[1].GetRawText());
    }

    [Theory]
    [InlineData("measure")]
    [InlineData("trend")]
    [InlineData("repeatability")]
    public async Task A_refused_line_is_answered_in_its_place_and_the_call_ends_with_1(string verb)
    {
        var (status, output, error) = await Call(verb, $"{Good(verb)}\nno JSON\n{Good(verb)}", fromFile: false);

        Assert.Equal((1, ""), (status, error));
        var answers = Answers(output);
        Assert.Equal([false, true, false], answers.Select(a => a.TryGetProperty("refused", out _)));
        Assert.Equal(
            (JsonValueKind.Null, 2, "unreadable"),
            (
                answers[1].GetProperty("id").ValueKind,
                answers[1].GetProperty("line").GetInt32(),
                answers[1].GetProperty("refused").GetProperty("code").GetString()
            )
        );
    }

    [Fact]
    public async Task A_tracing_with_too_few_points_is_refused_by_name()
    {
        var (status, output, _) = await Call("measure", TooShort, fromFile: false);

        Assert.Equal(1, status);
        Assert.Equal("too-few-points", Assert.Single(Answers(output)).GetProperty("refused").GetProperty("code").GetString());
    }

    [Theory]
    [InlineData("measure", "/no/such/file")]
    [InlineData("measure")]
    [InlineData("weigh", "-")]
    [InlineData("trend", "-", "-")]
    public async Task A_wrong_call_ends_with_2_and_says_nothing_on_standard_output(params string[] arguments)
    {
        await using var process = new ServiceProcess(arguments, []);
        process.Input.Close();
        var (output, error) = (await process.Output.ReadToEndAsync(), await process.Error.ReadToEndAsync());

        Assert.Equal(2, await process.Exit());
        Assert.Equal("", output);
        Assert.NotEqual("", error.Trim());
    }

    [Theory]
    [InlineData("measure")]
    [InlineData("trend")]
    [InlineData("repeatability")]
    public async Task An_answer_comes_while_the_caller_is_still_writing(string verb)
    {
        await using var process = new ServiceProcess([verb, "-"], []);
        for (var i = 0; i < 3; i++)
        {
            await process.Input.WriteLineAsync(Good(verb));
            await process.Input.FlushAsync();
            var answer = await process.Output.ReadLineAsync().WaitAsync(TimeSpan.FromMinutes(5));
            Assert.False(JsonDocument.Parse(answer!).RootElement.TryGetProperty("refused", out _), answer);
        }

        process.Input.Close();
        Assert.Equal(0, await process.Exit());
        Assert.Equal("", await process.Output.ReadToEndAsync());
    }

    private static string Good(string verb) =>
        verb switch
        {
            "trend" => Series,
            "repeatability" => Repeats,
            _ => JsonSerializer.Serialize(
                new
                {
                    id = "c1",
                    kind = "cross-section",
                    station = "behind-shoulder",
                    unit = "mm",
                    yAxis = "up",
                    points = Backs.Section(45, 41).Points.Select(p => new[] { p.X, p.Y }),
                }
            ),
        };

    private static async Task<(int Status, string Output, string Error)> Call(string verb, string lines, bool fromFile)
    {
        var file = Path.GetTempFileName();
        try
        {
            if (fromFile)
                await File.WriteAllTextAsync(file, lines);
            await using var process = new ServiceProcess([verb, fromFile ? file : "-"], []);
            var (output, error) = (process.Output.ReadToEndAsync(), process.Error.ReadToEndAsync());
            if (!fromFile)
                await process.Input.WriteAsync(lines);
            process.Input.Close();
            return (await process.Exit(), await output, await error);
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static List<JsonElement> Answers(string output) =>
        [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)];
}
