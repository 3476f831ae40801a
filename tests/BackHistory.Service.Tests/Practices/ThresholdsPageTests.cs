using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using BackHistory.Trends.Rules;
using Npgsql;

namespace BackHistory.Service.Tests.Practices;

/// <summary>The page of the thresholds: which of them measure the hand, what was learned, and the button that learns now.</summary>
public sealed partial class ThresholdsPageTests(RunningService service)
{
    private const string Address = "/practice/thresholds";

    /// <summary>By the formula of the minimal detectable change between two visits of one tracing each (Bland and Altman's limits, from
    /// memory), worked out here from the rules.</summary>
    [Fact]
    public async Task Exactly_the_thresholds_below_what_two_visits_can_tell_apart_are_marked_with_the_number_beside()
    {
        const string practice = "marks-thresholds";
        await service.Found(practice);
        using var browser = await Works("Sees Marks", practice, PracticeRole.ReadOnly);
        var rules = WatchRules.Default;
        var (marked, all) = (0, rules.Thresholds.Count);

        var page = await browser.Page(Address);
        var rows = Rows().Matches(page[..page.IndexOf("id=\"intervals\"", StringComparison.Ordinal)]).Select(r => Plain(r.Value)).ToList();

        Assert.Equal(all, rows.Count);
        foreach (var (row, rule) in rows.Zip(rules.Thresholds))
        {
            var noise = rules.NoiseOf(rule.Measure)!;
            var apart = 1.96 * Math.Sqrt(2 * (noise.TraceSd * noise.TraceSd + noise.VisitSd * noise.VisitSd));
            Assert.Equal(rule.Amount < apart, row.Contains("measures the hand", StringComparison.Ordinal));
            if (rule.Amount >= apart)
                continue;
            marked++;
            var said = Below().Match(row).Groups["number"].Value;
            Assert.Equal(apart, double.Parse(said, CultureInfo.InvariantCulture), 0.51);
        }

        Assert.InRange(marked, 1, all - 1);
        Assert.Contains($"Of {all} thresholds, {marked} lie below", Plain(await browser.Page(Address)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_the_horses_taught_is_learned_at_the_press_of_a_button_once_for_however_often_it_is_pressed()
    {
        const string practice = "learns-now";
        await service.Found(practice);
        using var browser = await Works("Learns Now", practice, PracticeRole.Manager);
        Assert.Contains(
            "Nothing was learned from this practice's horses yet",
            Plain(await browser.Page(Address)),
            StringComparison.Ordinal
        );

        var page = await browser.Page(Address);
        var form = page[page.IndexOf("action=\"/practice/learned\"", StringComparison.Ordinal)..].Split("</form>")[0];
        var fields = Hidden()
            .Matches(form)
            .Select(f => new KeyValuePair<string, string>(f.Groups["name"].Value, f.Groups["value"].Value))
            .ToList();
        for (var press = 0; press < 2; press++)
        {
            var pressed = await browser.Client.PostAsync("/practice/learned", new FormUrlEncodedContent(fields));
            Assert.Equal($"{Address}?saved=learning", pressed.Then());
        }

        Assert.Contains("Learning has begun", await browser.Page($"{Address}?saved=learning"), StringComparison.Ordinal);
        // What is learned under one key is recorded once.
        var jobs = await Asked(practice);
        Assert.Equal(2, jobs.Count);
        Assert.Equal(jobs[0], jobs[1]);
    }

    /// <summary>The arguments of the jobs that learn for a practice because somebody asked.</summary>
    private async Task<List<string>> Asked(string practice)
    {
        await using var command = service
            .Database()
            .CreateCommand("select arguments::text from jobs.job where invocationdata::text like '%RunFor%' and arguments::text like $1");
        command.Parameters.Add(new NpgsqlParameter { Value = $"%{practice}%" });
        await using var rows = await command.ExecuteReaderAsync();
        var all = new List<string>();
        while (await rows.ReadAsync())
            all.Add(rows.GetString(0));
        return all;
    }

    [Fact]
    public async Task Whoever_does_not_manage_is_offered_no_learning_and_cannot_ask_for_it()
    {
        using var browser = await Works("Fits And Looks", RunningService.Mine, PracticeRole.Fitter);

        Assert.DoesNotContain("Learn from our horses now", await browser.Page(Address), StringComparison.Ordinal);
        var asked = await browser.Client.PostAsync("/practice/learned", new FormUrlEncodedContent([new("key", "mine")]));
        Assert.DoesNotContain("saved=learning", asked.Then(), StringComparison.Ordinal);
    }

    private async Task<Browser> Works(string name, string practice, PracticeRole role) =>
        await service.SignedIn(await service.Member(name, (practice, role)));

    private static string Plain(string page) => Spaces().Replace(Tags().Replace(WebUtility.HtmlDecode(page), " "), " ");

    [GeneratedRegex("<tr>\\s*<td>.*?</tr>", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Rows();

    [GeneratedRegex("below (?<number>[0-9.]+)", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Below();

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>[^\"]+)\" value=\"(?<value>[^\"]+)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Hidden();

    [GeneratedRegex("<[^>]*>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Tags();

    [GeneratedRegex("\\s+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Spaces();
}
