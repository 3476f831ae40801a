using System.Net;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Sharing;
using BackHistory.Service.Configuration;
using BackHistory.Service.Sharing;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Horses;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>Links to one horse: what they show, to whom, until when, and what is left of every use.</summary>
public sealed class LinkTests(RunningService service)
{
    [Fact]
    public async Task A_link_shows_its_one_horse_and_opens_nothing_else()
    {
        using var client = service.Client();
        var (horse, url) = await Linked(client, "Linked Horse", "owner");
        var other = await client.Horse("Other Horse Of The Same Practice");
        using var reader = service.Browser();

        await reader.Until(url, "Linked Horse");
        foreach (
            var path in new[]
            {
                $"/horses/{horse}",
                $"/api/horses/{horse}",
                $"/horses/{other}",
                "/",
                "/reminders",
                $"/api/horses/{horse}/visits",
                "/api/caseload",
                $"/horses/{horse}/share",
            }
        )
        {
            var answer = await reader.Get(path);
            Assert.True(answer.StatusCode is HttpStatusCode.Redirect or HttpStatusCode.Unauthorized, $"{path}: {answer.StatusCode}");
            Assert.DoesNotContain("Linked Horse", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_owners_link_draws_the_one_chart_of_its_finding_and_no_other()
    {
        using var client = service.Client();
        var (horse, url) = await Linked(client, "Drawn Horse", "owner");
        await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = DateTimeOffset.UnixEpoch.AddYears(55),
                method = "flexible-curve",
                entries = new object[]
                {
                    ClientExtensions.Section(45, 44),
                    new
                    {
                        kind = "weight",
                        value = 512,
                        unit = "kg",
                    },
                },
            }
        );
        using var reader = service.Browser();
        await Until(async () => (await reader.Get($"{url}/chart.svg?measure=back")).StatusCode == HttpStatusCode.OK);

        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"{url}/chart.svg?measure=weight")).StatusCode);
        var vet = await Link(client, horse, "veterinarian");
        Assert.Equal(HttpStatusCode.OK, (await reader.Get($"{vet}/chart.svg?measure=weight")).StatusCode);
    }

    [Fact]
    public async Task A_vet_reads_in_their_own_language_at_the_station_they_choose_and_takes_the_record_along()
    {
        using var client = service.Client();
        var owner = await service.Person(RunningService.Mine, "Owner Of A Record");
        var vet = await service.Person(RunningService.Mine, "Dr. Huf", History.Practices.PersonRole.Veterinarian, "de");
        var horse = await client.Horse("Recorded Horse", owner);
        foreach (var (year, slope) in new[] { (54, 42), (55, 46) })
            await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = DateTimeOffset.UnixEpoch.AddYears(year),
                    method = "flexible-curve",
                    entries = new[] { ClientExtensions.Section(slope, 44), ClientExtensions.Section(slope - 9, 36, "mid-back") },
                }
            );
        await client.Write(HttpMethod.Post, $"/api/horses/{horse}/work", new { load = "light" });
        var made = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian", personId = vet });
        var url = new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath;
        using var reader = service.Browser();

        var page = WebUtility.HtmlDecode(await reader.Until($"{url}?station=mid-back", "leichte Arbeit"));

        Assert.Contains("<div lang=\"de\">", page, StringComparison.Ordinal);
        foreach (var said in (string[])["Im Verlauf", "Besuche", "Arbeit und Pausen", "Sattelarbeit", "Die Akte als PDF", "geboren 2015"])
            Assert.Contains(said, page, StringComparison.Ordinal);
        Assert.DoesNotContain("Over time", page, StringComparison.Ordinal);
        Assert.Matches("value=\"mid-back\"[^>]* selected", page);
        Assert.Contains("station=mid-back", page.Split("chart.svg")[1], StringComparison.Ordinal);
        var paper = await reader.Get($"{url}/record.pdf?station=mid-back");
        Assert.Equal("application/pdf", paper.Content.Headers.ContentType!.MediaType);
        Assert.StartsWith("%PDF-", await paper.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        await reader.Send(url, $"{url}/comment", ("words", "Links etwas flacher als im Mai."));
        var after = WebUtility.HtmlDecode(await reader.Until(url, "Was Sie geschrieben haben"));
        Assert.Contains("Links etwas flacher als im Mai.", after, StringComparison.Ordinal);
        // Others do not read it here, and an owner's summary has no record.
        using var theirs = service.Browser();
        var summary = await Link(client, horse, "owner");
        Assert.DoesNotContain("Links etwas flacher", WebUtility.HtmlDecode(await theirs.Page(summary)), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.Get($"{summary}/record.pdf")).StatusCode);
    }

    [Fact]
    public async Task An_altered_link_and_one_of_another_service_say_the_same_sentence()
    {
        using var client = service.Client();
        var (_, url) = await Linked(client, "Altered Link", "owner");
        using var reader = service.Browser();
        var said = new HashSet<string>(StringComparer.Ordinal);
        var token = url["/look/".Length..];
        // Of this horse, but sealed by another service's keys.
        var elsewhere = new SharedLinks(
            new Microsoft.AspNetCore.DataProtection.EphemeralDataProtectionProvider(),
            service.Services.GetRequiredService<Settings>()
        ).Token(new LinkName(RunningService.Mine, Guid.NewGuid(), Guid.NewGuid()));
        foreach (
            var broken in new[]
            {
                token[..^4] + (token[^4] == 'A' ? "BBBB" : "AAAA"),
                token[..20],
                "nonsense",
                new string('A', 400),
                token + "A",
                elsewhere,
            }
        )
        {
            var answer = await reader.Get("/look/" + broken);
            Assert.Equal(HttpStatusCode.Gone, answer.StatusCode);
            said.Add(await answer.Content.ReadAsStringAsync());
        }

        Assert.Contains("This link does not work.", Assert.Single(said), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_that_was_taken_back_shows_nothing_from_the_next_look_on()
    {
        using var client = service.Client();
        var (horse, url) = await Linked(client, "Taken Back", "veterinarian");
        var id = (await Listed(client, horse)).GetProperty("links")[0].GetProperty("id").GetGuid();
        using var reader = service.Browser();
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(url)).StatusCode);
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links/{id}/take-back", new { })).StatusCode
        );

        await Says(reader, url, "This is no longer shared.");
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"{url}/chart.svg?measure=condition")).StatusCode);
    }

    [Fact]
    public async Task A_link_whose_days_are_over_says_that_it_has_ended()
    {
        using var client = service.Client();
        var horse = await client.Horse("Old Link");
        var (tenant, now, id) = (RunningService.Mine, TestClock.Running.GetUtcNow().AddDays(-40), DeterministicId.From("old link"));
        var state = await service.Services.GetRequiredService<HorseQueries>().Load(tenant, horse, CancellationToken.None);
        await service
            .Services.GetRequiredService<Commands>()
            .Execute<HorseSharing>(
                new CommandContext(tenant, Guid.Empty, "old link", "", null, now),
                HorseSharing.IdOf(horse),
                s =>
                    SharingDecider.Decide(
                        s,
                        new MakeLink(id, SharedWith.Veterinarian, SharedScope.Trends, true, false, 30, Guid.Empty),
                        state,
                        null,
                        ZoneClock.Day(now, TimeZoneInfo.Utc),
                        now
                    ),
                CancellationToken.None
            );
        using var reader = service.Browser();

        await Says(
            reader,
            new Uri(service.Services.GetRequiredService<SharedLinks>().Url(tenant, horse, id)).AbsolutePath,
            "This link has ended."
        );
    }

    [Fact]
    public async Task A_link_for_one_device_opens_on_the_first_whose_reader_pressed_the_button_and_on_no_other()
    {
        using var client = service.Client();
        var (_, url) = await Linked(client, "One Device", "owner", binds: true);
        using var mailProgram = service.Browser();
        using var phone = service.Browser();
        using var other = service.Browser();

        // Mail programs open links by themselves: that binds nothing and shows nothing.
        Assert.DoesNotContain("One Device", await mailProgram.Page(url), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await mailProgram.Get($"{url}/chart.svg?measure=back")).StatusCode);
        await phone.Send(url, url + "/open");
        await phone.Until(url, "One Device");
        Assert.Contains("One Device", await phone.Page(url), StringComparison.Ordinal);
        await Says(other, url, "This link opens on another device.");
        await Says(mailProgram, url, "This link opens on another device.");
    }

    [Fact]
    public async Task Every_use_of_a_link_stands_in_the_horses_audit_and_so_does_every_refusal()
    {
        using var client = service.Client();
        var (horse, url) = await Linked(client, "Audited Horse", "owner", binds: true);
        using var phone = service.Browser();
        using var other = service.Browser();
        await phone.Send(url, url + "/open");
        await phone.Page(url);
        await phone.Page(url);
        await other.Get(url);

        var seen = (await (await client.GetAsync($"/api/audit/seen?horseId={horse}")).Json())
            .GetProperty("items")
            .EnumerateArray()
            .Select(n => n.GetProperty("what").GetString())
            .ToList();
        Assert.Equal(2, seen.Count(w => w == AuditWords.LinkOpened));
        // The page that asked before the button, and the other device.
        Assert.Equal(2, seen.Count(w => w == AuditWords.LinkTurnedAway));
        var changed = (await (await client.GetAsync($"/api/audit/changed?horseId={horse}")).Json())
            .GetProperty("items")
            .EnumerateArray()
            .Select(n => n.GetProperty("what").GetString())
            .ToList();
        Assert.Contains("link_made", changed);
        Assert.Contains("link_bound", changed);
    }

    [Fact]
    public async Task An_owner_who_sold_the_horse_sees_it_no_more()
    {
        using var client = service.Client();
        var (horse, url) = await Linked(client, "Sold Horse", "owner");
        using var reader = service.Browser();
        await reader.Until(url, "Sold Horse");
        await Sell(horse, await service.Person(RunningService.Mine, "Buyer"));

        await Says(reader, url, "This horse has another owner now.");
    }

    [Fact]
    public async Task What_the_reader_of_a_link_writes_reaches_the_practice_once()
    {
        using var client = service.Client();
        var (horse, url) = await Linked(client, "Commented Horse", "physiotherapist");
        using var reader = service.Browser();
        var key = Guid.NewGuid().ToString();
        await reader.Until(url, "Commented Horse");
        foreach (var _ in new[] { 1, 2 })
            await reader.Send(url, url + "/comment", ("key", key), ("words", "Tight behind the left shoulder."));
        await reader.Send(url, url + "/comment", ("words", new string('x', 2001)));

        var comment = Assert.Single((await (await client.GetAsync($"/api/horses/{horse}/sharing/comments")).Json()).EnumerateArray());
        Assert.Equal("Tight behind the left shoulder.", comment.GetProperty("words").GetString());
        Assert.DoesNotContain("<script>", await reader.Page(url), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_page_that_a_secret_address_opens_tells_that_address_to_nobody()
    {
        using var client = service.Client();
        var (_, url) = await Linked(client, "Quiet Horse", "owner");
        using var reader = service.Browser();
        var answer = await reader.Get(url);
        Assert.Equal("no-referrer", answer.Headers.GetValues("Referrer-Policy").Single());
        Assert.Contains("noindex", answer.Headers.GetValues("X-Robots-Tag").Single(), StringComparison.Ordinal);
        Assert.Contains("no-store", answer.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/look/nothing")]
    [InlineData("/letter/nothing")]
    [InlineData("/welcome/nothing")]
    [InlineData("/new-password/nothing")]
    [InlineData("/confirm-address/nothing")]
    [InlineData("/calendar/nothing")]
    public async Task No_address_that_carries_a_secret_is_passed_on_or_kept_by_whoever_opens_it(string path)
    {
        using var reader = service.Browser();
        var answer = await reader.Get(path);
        Assert.Equal("no-referrer", answer.Headers.GetValues("Referrer-Policy").Single());
        Assert.Contains("noindex", answer.Headers.GetValues("X-Robots-Tag").Single(), StringComparison.Ordinal);
        Assert.Contains("no-store", answer.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
    }

    private async Task Sell(Guid horse, Guid buyer)
    {
        var now = TestClock.Running.GetUtcNow();
        var outcome = await service
            .Services.GetRequiredService<Commands>()
            .Execute<Horse>(
                new CommandContext(RunningService.Mine, Guid.Empty, $"sold {horse}", "", null, now),
                horse,
                _ => Decided.Yes(new OwnerChanged(buyer, now, Guid.Empty)),
                CancellationToken.None
            );
        Assert.Null(outcome.Refused);
    }

    private static async Task Says(Browser reader, string url, string sentence)
    {
        var answer = await reader.Get(url);
        Assert.Equal(HttpStatusCode.Gone, answer.StatusCode);
        Assert.Contains(sentence, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private async Task<(Guid Horse, string Url)> Linked(HttpClient client, string name, string role, bool binds = false)
    {
        var horse = await client.Horse(name, await service.Person(RunningService.Mine, $"Owner of {name}"));
        return (horse, await Link(client, horse, role, binds));
    }

    private static async Task<string> Link(HttpClient client, Guid horse, string role, bool binds = false)
    {
        var made = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role, bindsToDevice = binds });
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        return new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath;
    }

    private static async Task<JsonElement> Listed(HttpClient client, Guid horse) =>
        await (await client.GetAsync($"/api/horses/{horse}/sharing")).Json();

    private static async Task Until(Func<Task<bool>> reached)
    {
        var from = TimeProvider.System.GetTimestamp();
        while (!await reached())
        {
            Assert.True(TimeProvider.System.GetElapsedTime(from) < TimeSpan.FromMinutes(5), "it did not come in five minutes");
            await Task.Delay(100);
        }
    }
}
