using System.Net;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;

namespace BackHistory.Service.Tests.Access;

/// <summary>Who works in a practice, as what, and what happens in the middle of a session when that changes.</summary>
public sealed class MemberTests(RunningService service)
{
    [Fact]
    public async Task A_fitter_who_is_taken_out_in_the_middle_of_a_session_finds_the_door_closed_with_the_next_click()
    {
        var fitter = await service.Member("Leaving Fitter", (RunningService.Mine, PracticeRole.Fitter));
        using var admin = await Administrator();
        using var browser = await service.SignedIn(fitter);
        using var program = await service.Client(fitter, RunningService.Mine);
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/api/horses")).StatusCode);

        await admin.Send("/practice/members", "/practice/members/remove", ("id", fitter.PersonId.ToString()));

        Assert.Equal(HttpStatusCode.Forbidden, (await browser.Get("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await program.GetAsync("/api/horses")).StatusCode);
        var page = await browser.Get("/reminders");
        Assert.Equal((HttpStatusCode.Redirect, "/not-yours"), (page.StatusCode, page.Headers.Location?.ToString()));
        Assert.Contains("not yours to see", await (await browser.Get("/not-yours")).Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains(
            "Nobody is signed in here, or the key is unknown, was ended or has expired.",
            (await (await program.GetAsync("/api/horses")).Json()).GetProperty("detail").GetString(),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "ask the administrator",
            (await (await browser.Get("/api/horses")).Json()).GetProperty("detail").GetString(),
            StringComparison.Ordinal
        );
        Assert.Contains("You work in no practice.", await browser.Page("/me"), StringComparison.Ordinal);
        Assert.Contains(AuditWords.TakenOut, await Noted());
    }

    [Fact]
    public async Task A_calendar_address_answers_no_more_when_its_maker_was_taken_out_or_may_make_none_any_more()
    {
        using var admin = await Administrator();
        using var reader = service.Anonymous();
        var (leaves, reads) = (
            await service.Member("Calendar Leaver", (RunningService.Mine, PracticeRole.Fitter)),
            await service.Member("Calendar Reader", (RunningService.Mine, PracticeRole.Fitter))
        );
        var (left, less) = (await Calendar(leaves, null), await Calendar(reads, null));
        using var program = service.Client();
        var given = await Calendar(program, leaves.PersonId);
        foreach (var address in new[] { left, less, given })
            Assert.Equal(HttpStatusCode.OK, (await reader.GetAsync(address)).StatusCode);

        await admin.Send("/practice/members", "/practice/members/remove", ("id", leaves.PersonId.ToString()));
        Assert.Equal(HttpStatusCode.NotFound, (await reader.GetAsync(left)).StatusCode);
        // Nor the one that somebody else made for them: they know it.
        Assert.Equal(HttpStatusCode.NotFound, (await reader.GetAsync(given)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await reader.GetAsync(less)).StatusCode);
        await admin.Send("/practice/members", "/practice/members/role", ("id", reads.PersonId.ToString()), ("role", "ReadOnly"));
        Assert.Equal(HttpStatusCode.NotFound, (await reader.GetAsync(less)).StatusCode);
    }

    [Fact]
    public async Task A_link_to_a_horse_ends_with_its_makers_place_in_the_practice_and_a_webhook_stays_and_is_named()
    {
        const string practice = "left-behind-links";
        await service.Found(practice);
        using var admin = service.Browser();
        await admin.SignIn(RunningService.EmailOf(practice), RunningService.Password);
        await TwoFactors(admin);
        var leaver = await service.Member("Makes And Leaves", (practice, PracticeRole.Administrator));
        using var maker = await service.Client(leaver, practice);
        using var client = service.Client(practice);
        var horse = await client.Horse("Shown By A Leaver");
        var (theirs, ours) = (await Link(maker, horse), await Link(client, horse));
        var made = await maker.Write(HttpMethod.Post, "/api/webhooks", new { url = "https://hooks.example.org/a-secret-path" });
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        using var reader = service.Browser();
        await reader.Until(theirs, "Shown By A Leaver");

        await admin.Send("/practice/members", "/practice/members/remove", ("id", leaver.PersonId.ToString()));

        var ended = await reader.Get(theirs);
        Assert.Equal(HttpStatusCode.Gone, ended.StatusCode);
        Assert.DoesNotContain("Shown By A Leaver", await ended.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains("Shown By A Leaver", await reader.Page(ours), StringComparison.Ordinal);
        Assert.Single((await (await client.GetAsync("/api/webhooks")).Json()).EnumerateArray());
        var audit = await admin.Page("/practice/audit");
        Assert.Contains("lets other software be told of changes", audit, StringComparison.Ordinal);
        Assert.Contains("set up stays with the practice: other software is told of changes", audit, StringComparison.Ordinal);
        Assert.Contains("hooks.example.org", audit, StringComparison.Ordinal);
        Assert.DoesNotContain("a-secret-path", audit, StringComparison.Ordinal);
    }

    private static async Task<string> Link(HttpClient client, Guid horse)
    {
        var made = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "rider", bindsToDevice = false });
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        return new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath;
    }

    [Fact]
    public async Task An_invitation_of_whoever_was_taken_out_or_administers_no_more_lets_nobody_in()
    {
        using var admin = await Administrator();
        foreach (var (name, how) in new[] { ("Inviter Who Leaves", "remove"), ("Inviter Who Becomes Less", "role") })
        {
            var member = await service.Member(name, (RunningService.Mine, PracticeRole.Administrator));
            using var inviter = await service.SignedIn(member);
            var address = $"{Guid.NewGuid():N}@members.invalid";
            await inviter.Send(
                "/practice/members",
                "/practice/members/invite",
                ("name", "Back Door"),
                ("email", address),
                ("role", "Administrator"),
                ("language", "en")
            );
            var invitations = service.Services.GetRequiredService<Invitations>();
            var invitation = Assert.Single(await invitations.Open(RunningService.Mine, CancellationToken.None), i => i.Email == address);
            var path = new Uri(service.Services.GetRequiredService<Service.Access.Letters.AccountLinks>().Accept(invitation)).AbsolutePath;
            using var stranger = service.Browser();
            Assert.Contains("name=\"password\"", await stranger.Page(path), StringComparison.Ordinal);
            await admin.Send("/practice/members", $"/practice/members/{how}", ("id", member.PersonId.ToString()), ("role", "Fitter"));
            Assert.DoesNotContain("name=\"password\"", await stranger.Page(path), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Taking_an_archive_of_the_practice_or_of_a_horse_leaves_an_entry_that_the_audit_page_shows()
    {
        const string practice = "archived-with-trace";
        await service.Found(practice);
        using var admin = service.Browser();
        await admin.SignIn(RunningService.EmailOf(practice), RunningService.Password);
        await TwoFactors(admin);
        using var client = service.Client(practice);
        var horse = await client.Horse("Taken Along");
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/api/archive")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/horses/{horse}/archive")).StatusCode);
        var page = await admin.Page("/practice/audit");
        Assert.Contains("Administrator took the whole practice out as an archive", page, StringComparison.Ordinal);
        Assert.Contains("Administrator took the horse out as an archive", page, StringComparison.Ordinal);
        var seen = await (await client.GetAsync($"/api/audit/seen?horseId={horse}")).Json();
        Assert.Contains(
            seen.GetProperty("items").EnumerateArray(),
            n => n.GetProperty("what").GetString() == AuditWords.ArchiveTaken && n.GetProperty("horseId").GetGuid() == horse
        );
    }

    /// <returns>The path of a new calendar address of this member.</returns>
    private async Task<string> Calendar(Member member, Guid? fitter)
    {
        using var client = await service.Client(member, RunningService.Mine);
        return await Calendar(client, fitter);
    }

    private static async Task<string> Calendar(HttpClient client, Guid? fitter)
    {
        var made = await client.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "Visits", fitterId = fitter });
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        return new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath;
    }

    [Fact]
    public async Task A_role_that_is_changed_holds_from_the_next_click_on()
    {
        var member = await service.Member("Promoted Member", (RunningService.Mine, PracticeRole.ReadOnly));
        using var admin = await Administrator();
        using var browser = await service.SignedIn(member);
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (await browser.Client.Write(HttpMethod.Post, "/api/horses", new { name = "Before" })).StatusCode
        );
        await admin.Send("/practice/members", "/practice/members/role", ("id", member.PersonId.ToString()), ("role", "Fitter"));
        Assert.Equal(
            HttpStatusCode.Created,
            (await browser.Client.Write(HttpMethod.Post, "/api/horses", new { name = "After" })).StatusCode
        );
        Assert.Contains(AuditWords.RoleChanged, await Noted());
    }

    [Fact]
    public async Task The_last_administrator_can_be_neither_taken_out_nor_made_less()
    {
        const string practice = "one-administrator";
        await service.Found(practice);
        using var admin = service.Browser();
        await admin.SignIn(RunningService.EmailOf(practice), RunningService.Password);
        await TwoFactors(admin);
        var accounts = service.Services.GetRequiredService<AccountDocuments>();
        var only = (
            await accounts.ByEmail(RunningService.EmailOf(practice).ToUpperInvariant(), CancellationToken.None)
        )!.Memberships.Single(m => m.Practice == practice);
        foreach (
            var (action, fields) in new[]
            {
                ("/practice/members/remove", new[] { ("id", only.PersonId.ToString()) }),
                ("/practice/members/role", [("id", only.PersonId.ToString()), ("role", "Fitter")]),
            }
        )
        {
            var answer = await admin.Send("/practice/members", action, fields);
            Assert.Equal("/practice/members?refused=last", answer.Headers.Location!.ToString());
        }

        Assert.Contains("make somebody else one first", await admin.Page("/practice/members?refused=last"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_member_of_another_practice_can_be_neither_changed_nor_taken_out()
    {
        var other = await service.Member("Elsewhere Fitter", (RunningService.Theirs, PracticeRole.Fitter));
        using var admin = await Administrator();
        var answer = await admin.Send(
            "/practice/members",
            "/practice/members/role",
            ("id", other.PersonId.ToString()),
            ("role", "Manager")
        );
        Assert.Equal("/practice/members?refused=gone", answer.Headers.Location!.ToString());
        var account = (await service.Services.GetRequiredService<AccountDocuments>().Load(other.AccountId, CancellationToken.None))!;
        Assert.Equal(PracticeRole.Fitter, account.Memberships.Single().Role);
    }

    [Fact]
    public async Task Whoever_is_invited_in_German_is_written_to_and_welcomed_in_German_whatever_the_browser_asks_for()
    {
        using var admin = await Administrator();
        const string address = "neue.kraft@members.invalid";
        await admin.Send(
            "/practice/members",
            "/practice/members/invite",
            ("name", "Neue Kraft"),
            ("email", address),
            ("role", "Manager"),
            ("language", "de")
        );
        var invitations = await service.Services.GetRequiredService<Invitations>().Open(RunningService.Mine, CancellationToken.None);
        var invitation = Assert.Single(invitations, i => i.Email == address);
        var letter = await LetterTo(address);
        Assert.Equal("Eine Einladung", letter.Subject);
        Assert.DoesNotContain("asks you to work", letter.TextBody, StringComparison.Ordinal);

        var welcome = new Uri(service.Services.GetRequiredService<Service.Access.Letters.AccountLinks>().Accept(invitation)).AbsolutePath;
        using var browser = service.Browser();
        browser.Client.DefaultRequestHeaders.AcceptLanguage.ParseAdd("en-GB");
        var page = WebUtility.HtmlDecode(await browser.Page(welcome));
        Assert.Contains("lang=\"de\"", page, StringComparison.Ordinal);
        Assert.Contains("Sie sind eingeladen, hier zu arbeiten. Was Sie dürfen: Leitung.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Choose a password", page, StringComparison.Ordinal);
        var weak = await (await browser.Send(welcome, welcome, ("password", "short"))).Content.ReadAsStringAsync();
        Assert.Contains("Das ist zu kurz.", weak, StringComparison.Ordinal);
        var joined = await browser.Send(welcome, welcome, ("password", "sieben braune Stuten"));
        Assert.Equal("/sign-in?joined=1&in=de", joined.Then());
        Assert.Contains("Sie sind dabei.", await browser.Page("/sign-in?joined=1&in=de"), StringComparison.Ordinal);
        var account = await service.Services.GetRequiredService<AccountDocuments>().ByEmail(address.ToUpperInvariant(), default);
        Assert.Equal("de", account!.Language);
    }

    [Theory]
    [InlineData("   ")]
    [InlineData(
        "0123456789 0123456789 0123456789 0123456789 0123456789 0123456789 0123456789 0123456789 0123456789 0123456789 0123456789 0"
    )]
    public async Task Whoever_opens_a_practice_and_gives_no_name_is_told_beside_the_field_and_keeps_what_was_typed(string typed)
    {
        var address = $"{Guid.NewGuid():N}@members.invalid";
        var now = service.Services.GetRequiredService<TimeProvider>().GetUtcNow();
        var invitation = new Invitation(
            Guid.NewGuid(),
            RunningService.Mine,
            Guid.NewGuid(),
            address,
            "en",
            PracticeRole.Administrator,
            Guid.Empty,
            now,
            now + Invitation.Life
        );
        await service.Services.GetRequiredService<Invitations>().Add(invitation, default);
        var welcome = new Uri(service.Services.GetRequiredService<Service.Access.Letters.AccountLinks>().Accept(invitation)).AbsolutePath;
        using var browser = service.Browser();
        var answer = await browser.Send(welcome, welcome, ("name", typed), ("password", "seven brown mares graze"));
        var page = await answer.Content.ReadAsStringAsync();
        Assert.Contains("id=\"name-wrong\"", page, StringComparison.Ordinal);
        Assert.Contains("Say your name, in up to 120 letters.", page, StringComparison.Ordinal);
        Assert.Contains($"value=\"{typed}\"", page, StringComparison.Ordinal);
        Assert.Null(await service.Services.GetRequiredService<AccountDocuments>().ByEmail(address.ToUpperInvariant(), default));
        Assert.True((await service.Services.GetRequiredService<Invitations>().Load(invitation.Id, default))!.Open(now));
    }

    [Fact]
    public async Task Somebody_who_is_invited_is_nobody_before_they_accept_and_the_link_counts_once()
    {
        using var admin = await Administrator();
        await admin.Send(
            "/practice/members",
            "/practice/members/invite",
            ("name", "New Apprentice"),
            ("email", "new.apprentice@members.invalid"),
            ("role", "Apprentice"),
            ("language", "en")
        );
        var invitations = service.Services.GetRequiredService<Invitations>();
        var invitation = (await invitations.Open(RunningService.Mine, CancellationToken.None)).Single(i =>
            i.Email == "new.apprentice@members.invalid"
        );
        var welcome = new Uri(service.Services.GetRequiredService<Service.Access.Letters.AccountLinks>().Accept(invitation)).AbsolutePath;
        using var browser = service.Browser();
        Assert.Contains("apprentice", await browser.Page(welcome), StringComparison.Ordinal);
        var weak = await (await browser.Send(welcome, welcome, ("password", "short"))).Content.ReadAsStringAsync();
        Assert.Contains("That is too short. Nothing was changed.", weak, StringComparison.Ordinal);
        await browser.Send(welcome, welcome, ("password", "seven brown mares graze"));
        Assert.Contains("This invitation does not hold any more.", await browser.Page(welcome), StringComparison.Ordinal);
        await browser.SignIn("new.apprentice@members.invalid", "seven brown mares graze");
        // A password alone does not open a practice.
        Assert.Equal(HttpStatusCode.Forbidden, (await browser.Get("/api/horses")).StatusCode);
        await TwoFactors(browser);
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task What_an_apprentice_enters_is_shown_at_once_and_decides_nothing_before_a_fitter_confirms_it()
    {
        var apprentice = await service.Member("Careful Apprentice", (RunningService.Mine, PracticeRole.Apprentice));
        using var entering = await service.Client(apprentice, RunningService.Mine);
        using var client = service.Client();
        var horse = await entering.Horse("Learners Horse");
        var made = await entering.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = DateTimeOffset.UnixEpoch.AddYears(55),
                method = "flexible-curve",
                entries = new[] { ClientExtensions.Section(45, 44) },
            }
        );
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var visit = (await made.Json()).GetProperty("visitId").GetGuid();
        var horses = service.Services.GetRequiredService<HorseQueries>();
        Assert.True((await horses.Load(RunningService.Mine, horse, CancellationToken.None))!.Visits[visit].AwaitsConfirmation);

        foreach (var action in new[] { "confirm", "withdraw" })
            Assert.Equal(
                HttpStatusCode.Forbidden,
                (await entering.Write(HttpMethod.Post, $"/api/horses/{horse}/visits/{visit}/{action}", new { reason = "mine" })).StatusCode
            );
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits/{visit}/confirm", new { })).StatusCode
        );
        Assert.False((await horses.Load(RunningService.Mine, horse, CancellationToken.None))!.Visits[visit].AwaitsConfirmation);
        // More from the same hand asks again.
        await entering.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{visit}/entries",
            new
            {
                entries = new object[]
                {
                    new
                    {
                        kind = "weight",
                        value = 510,
                        unit = "kg",
                    },
                },
            }
        );
        Assert.True((await horses.Load(RunningService.Mine, horse, CancellationToken.None))!.Visits[visit].AwaitsConfirmation);
    }

    [Fact]
    public async Task The_first_administrator_comes_by_a_printed_link_and_no_second_one_is_printed()
    {
        var (link, refused) = await FirstAdministrator.Found(
            service.Services,
            "first@administrators.invalid",
            "A New Practice",
            "Europe/Berlin",
            CancellationToken.None
        );
        Assert.Null(refused);
        using var browser = service.Browser();
        var path = new Uri(link!).AbsolutePath;
        var nameless = await browser.Send(path, path, ("password", "nine chestnut geldings"));
        Assert.Contains("id=\"name-wrong\"", await nameless.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        await browser.Send(path, path, ("password", "nine chestnut geldings"), ("name", " Ada Marsh "));
        await browser.SignIn("first@administrators.invalid", "nine chestnut geldings");
        await TwoFactors(browser);
        var members = await browser.Page("/practice/members");
        Assert.Contains("A New Practice", members, StringComparison.Ordinal);
        Assert.Contains("Ada Marsh", members, StringComparison.Ordinal);
        var again = await FirstAdministrator.Found(
            service.Services,
            "second@administrators.invalid",
            "A New Practice",
            "Europe/Berlin",
            CancellationToken.None
        );
        Assert.Equal((null, "has-administrator"), (again.Link, again.Refused?.Code));
        Assert.Single(
            await service.Services.GetRequiredService<KnownPractices>().All(CancellationToken.None),
            p => p.Name == "A New Practice"
        );
    }

    [Theory]
    [InlineData(PracticeRole.ReadOnly, 0)]
    [InlineData(PracticeRole.Apprentice, 1)]
    [InlineData(PracticeRole.Fitter, 2)]
    [InlineData(PracticeRole.Manager, 3)]
    [InlineData(PracticeRole.Administrator, 4)]
    public async Task Each_role_may_do_what_those_before_it_may_and_one_thing_more(PracticeRole role, int doors)
    {
        var member = await service.Member($"Ladder {role}", (RunningService.Mine, role));
        using var client = await service.Client(member, RunningService.Mine);
        using var admin = service.Client();
        var horse = await admin.Horse($"Ladder Horse {role}");
        HttpStatusCode[] answers =
        [
            (await client.Write(HttpMethod.Post, "/api/horses", new { name = $"By {role}" })).StatusCode,
            (
                await client.Write(
                    HttpMethod.Put,
                    $"/api/horses/{horse}",
                    new { name = $"Corrected by {role}", reason = "A typing error." }
                )
            ).StatusCode,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian" })).StatusCode,
            (await client.GetAsync("/api/audit/seen")).StatusCode,
        ];
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/horses/{horse}")).StatusCode);
        Assert.Equal(doors, answers.Count(a => a is HttpStatusCode.Created or HttpStatusCode.OK));
        Assert.All(answers[doors..], a => Assert.Equal(HttpStatusCode.Forbidden, a));
    }

    /// <summary>Sets up an authenticator app by the page, as a person does.</summary>
    private static async Task TwoFactors(Browser browser)
    {
        await browser.Send("/me/second-factor", "/me/second-factor/begin");
        var page = await browser.Page("/me/second-factor?app=1");
        var secret = System
            .Text.RegularExpressions.Regex.Match(
                page,
                "<code class=\"secret\">(?<s>[A-Z2-7 ]+)</code>",
                System.Text.RegularExpressions.RegexOptions.None,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Groups["s"]
            .Value.Replace(" ", "", StringComparison.Ordinal);
        var code = Service.Access.TimeCodes.At(secret, TestClock.Running.GetUtcNow());
        var answer = await browser.Send("/me/second-factor?app=1", "/me/second-factor/confirm", ("code", code));
        Assert.Equal("/me/second-factor?done=codes", answer.Headers.Location!.ToString());
        var codes = await browser.Page(answer.Headers.Location.ToString());
        Assert.Contains("shown this once", codes, StringComparison.Ordinal);
    }

    private async Task<MimeMessage> LetterTo(string address)
    {
        for (var i = 0; i < 3000; i++)
        {
            foreach (var file in Directory.Exists(service.MailFolder) ? Directory.GetFiles(service.MailFolder, "*.eml") : [])
            {
                try
                {
                    var message = await MimeMessage.LoadAsync(file);
                    if (message.To.Mailboxes.Any(m => m.Address == address))
                        return message;
                }
                catch (Exception e) when (e is FormatException or IOException)
                {
                    // It is being written.
                }
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException($"no letter to {address} in five minutes");
    }

    private async Task<Browser> Administrator()
    {
        var name = $"Admin {Guid.NewGuid():N}";
        return await service.SignedIn(await service.Member(name, (RunningService.Mine, PracticeRole.Administrator)));
    }

    private async Task<IReadOnlyList<string>> Noted() =>
        [
            .. (
                await service.Services.GetRequiredService<AuditBook>().Notes(RunningService.Mine, null, null, 200, CancellationToken.None)
            ).Select(n => n.What),
        ];
}
