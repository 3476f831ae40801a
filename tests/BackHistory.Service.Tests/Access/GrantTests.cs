using System.Net;
using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Service.Access.Letters;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;

namespace BackHistory.Service.Tests.Access;

/// <summary>What people outside a practice are let see of one horse, once they have accepted it.</summary>
public sealed partial class GrantTests(RunningService service)
{
    [Fact]
    public async Task A_vet_accepts_by_the_letter_sees_the_one_horse_and_nothing_of_the_practice()
    {
        using var client = service.Client();
        var horse = await client.Horse("Vetted Horse");
        var vet = await service.Person(RunningService.Mine, "Vet With A Clinic", PersonRole.Veterinarian);
        var grant = await Grant(client, horse, vet, "veterinarian");

        using var browser = service.Browser();
        var welcome = new Uri(Links().Match((await Letter(vet)).TextBody!).Value).AbsolutePath;
        Assert.Contains("They let you see one of their horses", await browser.Page(welcome), StringComparison.Ordinal);
        await browser.Send(welcome, welcome, ("password", "three quiet geldings"));
        await browser.SignIn($"{vet:N}@people.invalid", "three quiet geldings");

        Assert.Contains("Vetted Horse", await browser.Page("/shared-with-me"), StringComparison.Ordinal);
        await browser.Until($"/shared-with-me/{grant}", "Vetted Horse");
        foreach (var path in new[] { "/", $"/horses/{horse}", "/practice/members" })
            Assert.Equal(HttpStatusCode.Redirect, (await browser.Get(path)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await browser.Get($"/api/horses/{horse}")).StatusCode);
    }

    [Fact]
    public async Task A_grant_that_was_taken_back_or_is_over_shows_a_sentence_and_leaves_the_list()
    {
        using var client = service.Client();
        var horse = await client.Horse("Granted Horse");
        var (browser, grant) = await Accepted(client, horse, "Physio Until Monday", "physiotherapist");
        using var _ = browser;
        await browser.Until($"/shared-with-me/{grant}", "Granted Horse");
        Assert.Equal(
            HttpStatusCode.OK,
            (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/sharing/grants/{grant}/take-back",
                    new { reason = "The course is over." }
                )
            ).StatusCode
        );

        var gone = await browser.Get($"/shared-with-me/{grant}");
        Assert.Equal(HttpStatusCode.Gone, gone.StatusCode);
        Assert.Contains("This is no longer shared.", await gone.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("Granted Horse", await browser.Page("/shared-with-me"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_persons_grant_answers_as_one_that_was_never_given()
    {
        using var client = service.Client();
        var horse = await client.Horse("Not Yours");
        var (mine, grant) = await Accepted(client, horse, "Grantee One", "veterinarian");
        var (other, _) = await Accepted(client, await client.Horse("Somebody Elses"), "Grantee Two", "veterinarian");
        using var a = mine;
        using var b = other;
        var foreign = await other.Get($"/shared-with-me/{grant}");
        var missing = await other.Get($"/shared-with-me/{Guid.NewGuid()}");
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (foreign.StatusCode, missing.StatusCode));
        Assert.Equal(await missing.Content.ReadAsStringAsync(), await foreign.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task A_person_works_in_two_practices_and_owns_a_horse_in_a_third_and_sees_each_in_its_place()
    {
        var member = await service.Member(
            "Two Practices",
            (RunningService.Mine, PracticeRole.Fitter),
            (RunningService.Theirs, PracticeRole.ReadOnly)
        );
        using var mine = service.Client();
        using var theirs = service.Client(RunningService.Theirs);
        using var changing = service.Client(RunningService.Changing);
        var (here, there) = (await mine.Horse("Horse Here"), await theirs.Horse("Horse There"));
        var me = DeterministicId.From("me in the third");
        await service
            .Services.GetRequiredService<PracticeQueries>()
            .Save(
                RunningService.Changing,
                [new Person(me, "Two Practices", member.Email, null, null, PersonRole.Owner)],
                CancellationToken.None
            );
        var own = await changing.Horse("My Own Horse", me);
        var grant = await Grant(changing, own, me, "owner");
        using var browser = await service.SignedIn(member);
        var welcome = await WelcomeOf(grant);
        await browser.Send(welcome, welcome);

        await browser.Until($"/shared-with-me/{grant}", "My Own Horse");
        Assert.Contains("Horse Here", await browser.Page($"/horses/{here}/share"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"/api/horses/{there}")).StatusCode);
        await browser.Send("/me", "/me/practice", ("id", RunningService.Theirs));
        Assert.Equal(HttpStatusCode.OK, (await browser.Get($"/api/horses/{there}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"/api/horses/{here}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"/api/horses/{own}")).StatusCode);
        // May look there only, though a fitter here.
        Assert.Equal(HttpStatusCode.Forbidden, (await browser.Client.Write(HttpMethod.Post, "/api/horses", new { name = "x" })).StatusCode);
    }

    [Fact]
    public async Task A_horse_that_moved_to_another_practice_is_seen_by_each_only_in_its_own_history()
    {
        using var old = service.Client();
        using var next = service.Client(RunningService.Theirs);
        var horse = await old.Horse("Moving Horse");
        var (browser, grant) = await Accepted(old, horse, "Fitter Of The Next Practice", "another-practice");
        using var _ = browser;
        // Handed over: the next practice reads the whole record while it holds, and goes on in a history of its own.
        await browser.Until($"/shared-with-me/{grant}", "Saddle work");
        var moved = await next.Horse("Moving Horse");
        await old.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants/{grant}/take-back", new { });

        var gone = await browser.Get($"/shared-with-me/{grant}");
        Assert.Equal(HttpStatusCode.Gone, gone.StatusCode);
        Assert.Contains("This is no longer shared.", await gone.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains("The practice has taken it back.", await gone.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await old.GetAsync($"/api/horses/{moved}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await next.GetAsync($"/api/horses/{horse}")).StatusCode);
    }

    [Fact]
    public async Task An_owners_grant_ends_with_the_sale_and_the_buyer_needs_one_of_their_own()
    {
        using var client = service.Client();
        var seller = await service.Person(RunningService.Mine, "Seller");
        var horse = await client.Horse("Sold And Granted", seller);
        var grant = await Grant(client, horse, seller, "owner");
        var wrong = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/sharing/grants",
            new { personId = await service.Person(RunningService.Mine, "Not The Owner"), role = "owner" }
        );
        Assert.Equal("not-the-owner", (await wrong.Json()).GetProperty("code").GetString());

        var now = TestClock.Running.GetUtcNow();
        await service
            .Services.GetRequiredService<Commands>()
            .Execute<Horse>(
                new CommandContext(RunningService.Mine, Guid.Empty, "sold and granted", "", null, now),
                horse,
                _ => Decided.Yes(new OwnerChanged(null, now, Guid.Empty)),
                CancellationToken.None
            );
        var listed = (await (await client.GetAsync($"/api/horses/{horse}/sharing")).Json()).GetProperty("grants")[0];
        Assert.Equal((grant, false), (listed.GetProperty("id").GetGuid(), listed.GetProperty("holds").GetBoolean()));
    }

    [Fact]
    public async Task An_owner_who_sold_the_horse_is_told_that_it_has_another_owner_now()
    {
        using var client = service.Client();
        var seller = DeterministicId.From("accepting", "Seller With An Account");
        await service
            .Services.GetRequiredService<PracticeQueries>()
            .Save(
                RunningService.Mine,
                [new Person(seller, "Seller With An Account", null, null, null, PersonRole.Owner)],
                CancellationToken.None
            );
        var horse = await client.Horse("Sold From Under Them", seller);
        var (browser, grant) = await Accepted(client, horse, "Seller With An Account", "owner");
        using var _ = browser;
        await browser.Until($"/shared-with-me/{grant}", "Sold From Under Them");
        Assert.Equal(
            HttpStatusCode.OK,
            (
                await client.Write(
                    HttpMethod.Put,
                    $"/api/horses/{horse}/owner",
                    new { ownerId = await service.Person(RunningService.Mine, "Buyer With A Yard") }
                )
            ).StatusCode
        );

        var gone = await browser.Get($"/shared-with-me/{grant}");
        Assert.Equal(HttpStatusCode.Gone, gone.StatusCode);
        Assert.Contains("This horse has another owner now.", await gone.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("Sold From Under Them", await browser.Page("/shared-with-me"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_grant_that_was_for_some_days_ends_with_a_sentence_after_the_last()
    {
        using var client = service.Client();
        var horse = await client.Horse("Lent For Some Days");
        var (browser, grant) = await Accepted(client, horse, "Physio For Some Days", "physiotherapist");
        using var _ = browser;
        // Given a year ago, until some days later: as it stands today.
        var (then, over) = (TestClock.Running.GetUtcNow().AddDays(-365), DeterministicId.From("a grant that is over"));
        var state = await service.Services.GetRequiredService<HorseQueries>().Load(RunningService.Mine, horse, CancellationToken.None);
        var person = await service
            .Services.GetRequiredService<PracticeQueries>()
            .Person(RunningService.Mine, DeterministicId.From("accepting", "Physio For Some Days"), CancellationToken.None);
        var day = ZoneClock.Day(then, TimeZoneInfo.Utc);
        var given = await service
            .Services.GetRequiredService<Commands>()
            .Execute<HorseSharing>(
                new CommandContext(RunningService.Mine, Guid.Empty, "lent for some days", "", null, then),
                HorseSharing.IdOf(horse),
                s =>
                    SharingDecider.Decide(
                        s,
                        new GrantAccess(over, SharedWith.Rider, SharedScope.Summary, true, day.AddDays(5), Guid.Empty),
                        state,
                        person,
                        day,
                        then
                    ),
                CancellationToken.None
            );
        Assert.Null(given.Refused);
        var accounts = service.Services.GetRequiredService<AccountDocuments>();
        var account = (await accounts.ByEmail("PHYSIO.FOR.SOME.DAYS@MEMBERS.INVALID", CancellationToken.None))!;
        await accounts.Change(
            account.Id,
            a => a.Shared = a.Shared.Add(new HeldGrant(RunningService.Mine, horse, over)),
            CancellationToken.None
        );

        var ended = await browser.Get($"/shared-with-me/{over}");
        Assert.Equal(HttpStatusCode.Gone, ended.StatusCode);
        Assert.Contains("It was shared until a day that has passed.", await ended.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await browser.Get($"/shared-with-me/{grant}")).StatusCode);
    }

    [Fact]
    public async Task The_horses_page_lists_who_sees_it_and_who_gave_it_and_whoever_may_gives_and_takes_back_there()
    {
        using var client = service.Client();
        var horse = await client.Horse("Listed On Its Page");
        var manager = await service.Member("Giving Manager", (RunningService.Mine, PracticeRole.Manager));
        using var browser = await service.SignedIn(manager);
        using var fitter = await service.SignedIn(await service.Member("Looking Fitter", (RunningService.Mine, PracticeRole.Fitter)));
        var page = $"/horses/{horse}";
        await browser.Until(page, "Nobody outside the practice sees this horse.");

        var until = ZoneClock.Day(TestClock.Running.GetUtcNow(), TimeZoneInfo.Utc).AddDays(20);
        var given = await browser.Send(
            page,
            $"{page}/share/person",
            ("email", "listed.vet@people.invalid"),
            ("name", "Vet On The List"),
            ("role", "Veterinarian"),
            ("until", until.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture))
        );
        Assert.Equal($"{page}?done=given#shared", given.Headers.Location!.ToString());
        Assert.Equal(
            $"{page}?done=made#shared",
            (await browser.Send(page, $"{page}/share/link", ("role", "Rider"), ("days", "10"))).Headers.Location!.ToString()
        );
        Assert.Equal(
            $"{page}?refused=bad-days#shared",
            (await browser.Send(page, $"{page}/share/link", ("role", "Rider"), ("days", "91"))).Headers.Location!.ToString()
        );
        Assert.Contains("A link holds for 1 to 90 days.", await browser.Page($"{page}?refused=bad-days"), StringComparison.Ordinal);

        var listed = WebUtility.HtmlDecode(await browser.Page($"{page}?done=given"));
        var day = until.ToString("d MMM yyyy", System.Globalization.CultureInfo.InvariantCulture);
        foreach (
            var words in new[]
            {
                "A letter with a link to accept it is on its way.",
                "Vet On The List</strong>, veterinary surgeon",
                $"sees every measure over time, until {day}; given by Giving Manager on",
                "for the rider",
                "made by Giving Manager on",
                "/look/",
            }
        )
            Assert.Contains(words, listed, StringComparison.Ordinal);

        // A fitter sees who sees it, and has neither the link's address nor a form.
        var seen = WebUtility.HtmlDecode(await fitter.Page(page));
        Assert.Contains("given by Giving Manager on", seen, StringComparison.Ordinal);
        foreach (var kept in new[] { "/look/", "/share/take-back", "/share/link", "/share/person" })
            Assert.DoesNotContain(kept, seen, StringComparison.Ordinal);

        var grant = (await (await client.GetAsync($"/api/horses/{horse}/sharing")).Json())
            .GetProperty("grants")[0]
            .GetProperty("id")
            .GetString()!;
        var back = await browser.Send(page, $"{page}/share/take-back", ("id", grant), ("isLink", "false"));
        Assert.Equal($"{page}?done=taken-back#shared", back.Headers.Location!.ToString());
        var after = await browser.Page($"{page}?done=taken-back");
        Assert.DoesNotContain("Vet On The List</strong>", after, StringComparison.Ordinal);
        Assert.Contains("1 earlier one has ended or been taken back.", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_was_let_see_a_horse_that_was_entered_twice_sees_the_one_that_stayed()
    {
        using var client = service.Client();
        var (stays, twice) = (await client.Horse("Comfrey"), await client.Horse("Comfry Written Wrong"));
        var (browser, grant) = await Accepted(client, twice, "Vet Of A Twin", "veterinarian");
        using var _ = browser;
        var made = await (
            await client.Write(HttpMethod.Post, $"/api/horses/{twice}/sharing/links", new { role = "veterinarian", bindsToDevice = true })
        ).Json();
        var link = new Uri(made.GetProperty("url").GetString()!).AbsolutePath;
        using var phone = service.Browser();
        await phone.Send(link, link + "/open");
        await phone.Until(link, "Comfry Written Wrong");
        await phone.Send(link, link + "/comment", ("key", Guid.NewGuid().ToString()), ("words", "Written before the merge."));
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/horses/{twice}/merge", new { intoId = stays, reason = "One horse." })).StatusCode
        );

        // The same addresses, the same device: the horse that stayed, and nothing of the other.
        await browser.Until($"/shared-with-me/{grant}", "<h1>Comfrey</h1>");
        Assert.Contains("Comfrey", await browser.Page("/shared-with-me"), StringComparison.Ordinal);
        await phone.Until(link, "<h1>Comfrey</h1>");
        await phone.Send(link, link + "/comment", ("key", Guid.NewGuid().ToString()), ("words", "Written after the merge."));
        var comments = (await (await client.GetAsync($"/api/horses/{stays}/sharing/comments")).Json())
            .EnumerateArray()
            .Select(c => c.GetProperty("words").GetString());
        Assert.Equal(["Written after the merge.", "Written before the merge."], comments);
        var noted = (await (await client.GetAsync($"/api/audit/seen?horseId={stays}&limit=100")).Json())
            .GetProperty("items")
            .EnumerateArray()
            .ToList();
        Assert.Contains(noted, n => n.GetProperty("what").GetString() == "link-opened" && n.GetProperty("horseId").GetGuid() == twice);
        Assert.Contains(noted, n => n.GetProperty("what").GetString() == "link-opened" && n.GetProperty("horseId").GetGuid() == stays);
        var changed = (await (await client.GetAsync($"/api/audit/changed?horseId={stays}&limit=100")).Json())
            .GetProperty("items")
            .EnumerateArray()
            .Select(n => n.GetProperty("what").GetString())
            .ToList();
        Assert.Contains("sharing_merged", changed);
        Assert.Contains("sharing_merged_away", changed);

        // Taken back where it goes on, it shows nothing under its old address.
        var listed = await (await client.GetAsync($"/api/horses/{stays}/sharing")).Json();
        Assert.Equal(stays, listed.GetProperty("horseId").GetGuid());
        Assert.Equal(grant, Assert.Single(listed.GetProperty("grants").EnumerateArray()).GetProperty("id").GetGuid());
        Assert.Equal(
            HttpStatusCode.Conflict,
            (await client.Write(HttpMethod.Post, $"/api/horses/{twice}/sharing/grants/{grant}/take-back", new { })).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/horses/{stays}/sharing/grants/{grant}/take-back", new { })).StatusCode
        );
        Assert.Equal(HttpStatusCode.Gone, (await browser.Get($"/shared-with-me/{grant}")).StatusCode);
    }

    [Fact]
    public async Task An_invitation_whose_days_are_over_and_one_that_was_altered_say_the_same_sentence()
    {
        var links = service.Services.GetRequiredService<AccountLinks>();
        var invitations = service.Services.GetRequiredService<Invitations>();
        var now = TestClock.Running.GetUtcNow();
        var invitation = new Invitation(
            DeterministicId.From("an invitation that is over"),
            RunningService.Mine,
            DeterministicId.From("invited too long ago"),
            "too.late@members.invalid",
            "en",
            PracticeRole.Fitter,
            Guid.Empty,
            now,
            now.AddDays(7)
        );
        await invitations.Add(invitation, CancellationToken.None);
        var path = new Uri(links.Accept(invitation)).AbsolutePath;
        using var browser = service.Browser();
        Assert.Contains("name=\"password\"", await browser.Page(path), StringComparison.Ordinal);
        var form = await browser.Page(path);
        await invitations.Change(invitation.Id, i => i with { EndsAt = now.AddMinutes(-1) }, CancellationToken.None);
        foreach (var broken in new[] { path, path[..^6] + "AAAAAA", "/welcome/nothing" })
            Assert.Contains("This invitation does not hold any more.", await browser.Page(broken), StringComparison.Ordinal);

        // Whoever left the page open and sends it now is no member either.
        var token = System
            .Text.RegularExpressions.Regex.Match(
                form,
                "name=\"__RequestVerificationToken\"[^>]*value=\"(?<v>[^\"]*)\"",
                RegexOptions.None,
                Regex.InfiniteMatchTimeout
            )
            .Groups["v"]
            .Value;
        await browser.Client.PostAsync(
            path,
            new FormUrlEncodedContent([new("__RequestVerificationToken", token), new("password", "seven grey ponies graze")])
        );
        Assert.Null(
            await service.Services.GetRequiredService<AccountDocuments>().ByEmail("TOO.LATE@MEMBERS.INVALID", CancellationToken.None)
        );
    }

    [Fact]
    public async Task Only_a_manager_shares_and_everybody_sees_who_did()
    {
        var fitter = await service.Member("Sharing Fitter", (RunningService.Mine, PracticeRole.Fitter));
        using var manager = service.Client();
        using var client = await service.Client(fitter, RunningService.Mine);
        var horse = await manager.Horse("Shared By A Manager");
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian" })).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.Created,
            (await manager.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian" })).StatusCode
        );
        var link = (await (await client.GetAsync($"/api/horses/{horse}/sharing")).Json()).GetProperty("links")[0];
        Assert.Equal(DeterministicId.From("person", RunningService.Mine, "Administrator"), link.GetProperty("madeBy").GetGuid());
        // The address itself is for those who may share.
        Assert.Equal(System.Text.Json.JsonValueKind.Null, link.GetProperty("url").ValueKind);
    }

    private async Task<(Browser Browser, Guid Grant)> Accepted(HttpClient client, Guid horse, string name, string role)
    {
        var member = await service.Member(name);
        var id = DeterministicId.From("accepting", name);
        await service
            .Services.GetRequiredService<PracticeQueries>()
            .Save(RunningService.Mine, [new Person(id, name, member.Email, null, null, PersonRole.Veterinarian)], CancellationToken.None);
        var grant = await Grant(client, horse, id, role);
        var browser = await service.SignedIn(member);
        var welcome = await WelcomeOf(grant);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Send(welcome, welcome)).StatusCode);
        return (browser, grant);
    }

    private static async Task<Guid> Grant(HttpClient client, Guid horse, Guid person, string role)
    {
        var answer = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants", new { personId = person, role });
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        return (await answer.Json()).GetProperty("id").GetGuid();
    }

    private async Task<string> WelcomeOf(Guid grant)
    {
        var invitation = await service
            .Services.GetRequiredService<Invitations>()
            .Load(DeterministicId.From("invitation", grant.ToString()), CancellationToken.None);
        return new Uri(service.Services.GetRequiredService<AccountLinks>().Accept(invitation!)).AbsolutePath;
    }

    private async Task<MimeMessage> Letter(Guid person)
    {
        for (var i = 0; i < 3000; i++)
        {
            foreach (var file in Directory.Exists(service.MailFolder) ? Directory.GetFiles(service.MailFolder, "*.eml") : [])
            {
                try
                {
                    var message = await MimeMessage.LoadAsync(file);
                    if (message.To.Mailboxes.Any(m => m.Address == $"{person:N}@people.invalid"))
                        return message;
                }
                catch (Exception e) when (e is FormatException or IOException)
                {
                    // Being written at this moment.
                }
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException("the letter did not come in five minutes");
    }

    [GeneratedRegex(@"http\S+/welcome/\S+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Links();
}
