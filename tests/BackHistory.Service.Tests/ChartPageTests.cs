using System.Net;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests;

/// <summary>The charts of a horse's page: what they show, from when, and how it came about.</summary>
public sealed partial class ChartPageTests(RunningService service)
{
    [Fact]
    public async Task The_chart_of_a_whole_horse_is_there_from_the_day_that_is_asked_for_and_says_what_went_in_and_what_was_corrected()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        await Weighed(client, horse, "2025-03-01T10:00:00Z", 540);
        var second = await Weighed(client, horse, "2026-06-12T10:00:00Z", 620);
        var corrected = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{second.Visit}/entries/{second.Entry}/correct",
            new
            {
                entry = new
                {
                    kind = "weight",
                    value = 530,
                    unit = "kg",
                },
                reason = "Another horse was on the scale.",
            }
        );
        Assert.Equal(HttpStatusCode.OK, corrected.StatusCode);

        using var fitter = await service.SignedIn(await service.Member("Chart Reader", (RunningService.Mine, PracticeRole.Fitter)));
        var page = await fitter.Until($"/horses/{horse}?measure=weight", "Another horse was on the scale.");
        Assert.Contains("How this was computed", page, StringComparison.Ordinal);
        Assert.Contains("620", page, StringComparison.Ordinal);
        var whole = await Picture(fitter, page);
        Assert.Equal(["2025-03-01", "2026-06-12"], Days(whole));

        // A day before the second visit: the first is left out of the picture, not out of the trend.
        var since = await fitter.Page(Address(page).Replace("&theme", "&from=2026-01-01&theme", StringComparison.Ordinal));
        Assert.Equal(["2026-06-12"], Days(since));
        // Nothing was measured since: everything is shown.
        Assert.Equal(
            Days(whole),
            Days(await fitter.Page(Address(page).Replace("&theme", "&from=2026-07-01&theme", StringComparison.Ordinal)))
        );
    }

    [Fact]
    public async Task A_section_shows_the_day_that_was_chosen_beside_the_one_the_saddle_was_set_to()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        foreach (var (day, slope) in new[] { ("2026-01-10", 45), ("2026-03-10", 43), ("2026-06-10", 41) })
        {
            var made = await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = $"{day}T10:00:00Z",
                    method = "flexible-curve",
                    entries = new[] { ClientExtensions.Section(slope, slope) },
                }
            );
            Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        }

        using var fitter = await service.SignedIn(await service.Member("Section Reader", (RunningService.Mine, PracticeRole.Fitter)));
        await fitter.Until($"/horses/{horse}", "10 Jun 2026");
        var address = $"/api/horses/{horse}/charts/section.svg?station=behind-shoulder";
        Assert.Contains("10 Jan 2026 and 10 Jun 2026", await fitter.Page(address), StringComparison.Ordinal);
        Assert.Contains("10 Jan 2026 and 10 Mar 2026", await fitter.Page($"{address}&on=2026-03-10"), StringComparison.Ordinal);
        Assert.Contains("10 Jan 2026 and 10 Jun 2026", await fitter.Page($"{address}&on=2020-01-01"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Dates_between_the_two_that_are_compared_are_drawn_too_and_the_change_stays_between_the_two()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var visits = new List<Guid>();
        foreach (var (day, slope) in new[] { ("2026-01-10", 45), ("2026-03-10", 43), ("2026-06-10", 41), ("2026-07-10", 40) })
        {
            var made = await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = $"{day}T10:00:00Z",
                    method = "flexible-curve",
                    entries = new[] { ClientExtensions.Section(slope, slope) },
                }
            );
            visits.Add((await made.Json()).GetProperty("visitId").GetGuid());
        }

        using var fitter = await service.SignedIn(await service.Member("Compare Reader", (RunningService.Mine, PracticeRole.Fitter)));
        await fitter.Until($"/horses/{horse}/compare", "10 Jul 2026");
        // The last lies outside of the two dates: it is not drawn.
        var page = await fitter.Page($"/horses/{horse}/compare?Then={visits[0]}&Now={visits[2]}&Also={visits[1]}&Also={visits[3]}");
        var address = WebUtility.HtmlDecode(Section().Match(page).Groups["address"].Value);
        Assert.Contains("10 Jan 2026, 10 Mar 2026, 10 Jun 2026", await fitter.Page(address), StringComparison.Ordinal);
        var two = await fitter.Page($"/horses/{horse}/compare?Then={visits[0]}&Now={visits[2]}");
        Assert.Equal(Cells(two), Cells(page));
        Assert.NotEmpty(Cells(two));
    }

    private static IEnumerable<string> Cells(string page) => Numbers().Matches(page).Select(m => m.Value).ToList();

    [GeneratedRegex("<td class=\"r num\"[^>]*>[^<]*(<strong>[^<]*</strong>)?</td>", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Numbers();

    [GeneratedRegex(
        "<img [^>]*src=\"(?<address>/api/horses/[^\"]+/compare/section.svg[^\"]+)\"",
        RegexOptions.ExplicitCapture,
        Timeout.Infinite
    )]
    private static partial Regex Section();

    private static async Task<(Guid Visit, Guid Entry)> Weighed(HttpClient client, Guid horse, string at, double kilograms)
    {
        var made = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = at,
                method = "scale",
                entries = new object[]
                {
                    new
                    {
                        kind = "weight",
                        value = kilograms,
                        unit = "kg",
                    },
                },
            }
        );
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var answer = await made.Json();
        return (answer.GetProperty("visitId").GetGuid(), answer.GetProperty("entries")[0].GetProperty("entryId").GetGuid());
    }

    private static string Address(string page) => WebUtility.HtmlDecode(Trend().Match(page).Groups["address"].Value);

    private static Task<string> Picture(Browser browser, string page) => browser.Page(Address(page));

    private static IEnumerable<string> Days(string svg) =>
        Dots().Matches(svg).Select(m => m.Groups["on"].Value).Distinct(StringComparer.Ordinal);

    [GeneratedRegex("<img [^>]*data-explore[^>]* src=\"(?<address>[^\"]+)\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Trend();

    [GeneratedRegex("data-on=\"(?<on>[^\"]+)\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Dots();
}
