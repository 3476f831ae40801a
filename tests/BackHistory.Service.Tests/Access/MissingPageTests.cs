using System.Net;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>A page about something that is not there says so: to a person in words, to everything else by its status.</summary>
public sealed partial class MissingPageTests(RunningService service)
{
    [Fact]
    public async Task The_page_of_a_missing_horse_and_of_a_foreign_one_is_not_found_and_says_so_in_words()
    {
        using var browser = await service.SignedIn(
            await service.Member("Looks For Horses", (RunningService.Mine, PracticeRole.Administrator))
        );
        using var theirs = service.Client(RunningService.Theirs);
        var horse = await theirs.Horse("Bindweed Of Another Practice");
        var saddle = (await (await theirs.Write(HttpMethod.Post, "/api/saddles", new { label = "Toadflax" })).Json())
            .GetProperty("id")
            .GetGuid();
        var pages = Pages();
        foreach (
            var page in (string[])
                [
                    "/horses/{HorseId:guid}",
                    "/horses/{HorseId:guid}/share",
                    "/horses/{HorseId:guid}/compare",
                    "/horses/{HorseId:guid}/visits/new",
                    "/horses/{HorseId:guid}/visits/{VisitId:guid}/desk",
                    "/saddles/{SaddleId:guid}",
                    "/shared-with-me/{GrantId:guid}",
                ]
        )
            Assert.Contains(page, pages);
        foreach (var page in pages)
        {
            var missing = await Said(browser, page, Guid.NewGuid());
            Assert.Equal(HttpStatusCode.NotFound, missing.Status);
            Assert.Contains("There is nothing here.", missing.Page, StringComparison.Ordinal);
            Assert.Contains("not yours to see", missing.Page, StringComparison.Ordinal);
            foreach (var foreign in new[] { horse, saddle })
                Assert.Equal(missing, await Said(browser, page, foreign));
        }
    }

    [Fact]
    public async Task The_page_of_a_horse_and_of_a_saddle_that_are_there_are_found_at_every_look()
    {
        using var client = service.Client();
        using var browser = await service.SignedIn(
            await service.Member("Looks Again And Again", (RunningService.Mine, PracticeRole.Administrator))
        );
        var horse = await client.Horse("Speedwell At Every Look");
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "Speedwells" })).Json())
            .GetProperty("id")
            .GetGuid();
        await browser.Until($"/horses/{horse}", "Speedwell At Every Look");
        for (var look = 0; look < 10; look++)
        {
            foreach (
                var page in new[]
                {
                    $"/horses/{horse}",
                    $"/horses/{horse}/share",
                    $"/horses/{horse}/compare",
                    $"/horses/{horse}/visits/new",
                    $"/saddles/{saddle}",
                    "/practice",
                }
            )
                Assert.Equal((page, HttpStatusCode.OK), (page, (await browser.Get(page)).StatusCode));
        }
    }

    [Fact]
    public async Task A_horses_page_without_the_right_to_it_and_an_address_that_never_was_are_not_found_too()
    {
        using var browser = await service.SignedIn(await service.Member("Works Nowhere"));
        var turned = await browser.Get($"/horses/{Guid.NewGuid()}");
        Assert.Equal("/not-yours", turned.Headers.Location?.ToString());
        foreach (var path in new[] { "/not-yours", "/nothing-here", "/horses/no-horse", "/saddles/7/8/9" })
        {
            var answer = await browser.Get(path);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Contains("There is nothing here.", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task An_act_on_a_missing_reminder_is_told_in_words()
    {
        using var client = service.Client();
        using var browser = await service.SignedIn(
            await service.Member("Looks For Reminders", (RunningService.Mine, PracticeRole.Manager))
        );
        var answer = await client.GetAsync($"/api/reminders/{Guid.NewGuid()}");
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        var words = (await answer.Json()).GetProperty("detail").GetString()!;
        Assert.EndsWith(".", words, StringComparison.Ordinal);
        // The same by the page's form: its token stands in every form of a page.
        var token = Token().Match(await browser.Page("/me")).Groups["v"].Value;
        var sent = await browser.Client.PostAsync(
            $"/reminders/{Guid.NewGuid()}",
            new FormUrlEncodedContent([
                new("__RequestVerificationToken", token),
                new("key", Guid.NewGuid().ToString()),
                new("act", "done"),
                new("state", "open"),
            ])
        );
        Assert.Equal(HttpStatusCode.Redirect, sent.StatusCode);
        Assert.Contains(words, WebUtility.HtmlDecode(await browser.Page(sent.Headers.Location!.ToString())), StringComparison.Ordinal);
    }

    /// <summary>Every page whose address names something by its id.</summary>
    private IReadOnlyList<string> Pages() =>
        [
            .. service
                .Services.GetRequiredService<IEnumerable<EndpointDataSource>>()
                .SelectMany(s => s.Endpoints)
                .OfType<RouteEndpoint>()
                .Where(e =>
                    e.Metadata.GetMetadata<ComponentTypeMetadata>() is not null
                    && e.RoutePattern.RawText!.Contains(":guid}", StringComparison.Ordinal)
                )
                .Select(e => e.RoutePattern.RawText!)
                .Distinct(StringComparer.Ordinal),
        ];

    private static async Task<(HttpStatusCode Status, string Page)> Said(Browser browser, string page, Guid id)
    {
        var answer = await browser.Get(Parameter().Replace(page, id.ToString()));
        return (
            answer.StatusCode,
            Seal().Replace((await answer.Content.ReadAsStringAsync()).Replace(id.ToString(), "{id}", StringComparison.Ordinal), "")
        );
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]*value=\"(?<v>[^\"]*)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Token();

    [GeneratedRegex(@"\{\w+:guid\}", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Parameter();

    [GeneratedRegex("CfDJ8[A-Za-z0-9_%-]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Seal();
}
