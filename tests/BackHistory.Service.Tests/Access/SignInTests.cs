using System.Net;
using BackHistory.Service.Access;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Configuration;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>Guessing, recovering, ending sessions: what somebody who should not get in is told, which is always the same.</summary>
public sealed class SignInTests(RunningService service)
{
    private const string Wrong = "not the password at all";

    [Fact]
    public async Task A_wrong_password_and_an_account_that_is_not_there_are_told_the_same()
    {
        var member = await service.Member("Guessed At", (RunningService.Mine, PracticeRole.Fitter));
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var email in new[] { member.Email, "nobody@nowhere.invalid", "", "no address" })
        {
            using var browser = service.Browser();
            var answer = await browser.Send("/sign-in", "/sign-in", ("email", email), ("password", Wrong));
            told.Add(
                $"{answer.StatusCode} {answer.Headers.Location} "
                    + $"{string.Join(',', answer.Headers.Select(h => h.Key).Order(StringComparer.Ordinal))}"
            );
        }

        Assert.Contains("failed=1", Assert.Single(told), StringComparison.Ordinal);
    }

    [Fact]
    public async Task After_six_failures_the_right_password_rests_too_and_nobody_is_told_so()
    {
        var member = await service.Member("Locked Out", (RunningService.Mine, PracticeRole.Fitter));
        using var browser = service.Browser();
        for (var i = 0; i < 6; i++)
            await browser.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", Wrong));
        var answer = await browser.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", RunningService.Password));
        Assert.Equal("/sign-in?failed=1", answer.Headers.Location!.ToString());
    }

    [Fact]
    public async Task Asking_for_a_new_password_says_the_same_whether_the_account_is_there_or_not()
    {
        var member = await service.Member("Forgetful", (RunningService.Mine, PracticeRole.Fitter));
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var email in new[] { member.Email, "nobody@nowhere.invalid" })
        {
            using var browser = service.Browser();
            var answer = await browser.Send("/forgotten", "/forgotten", ("email", email));
            told.Add($"{answer.StatusCode} {answer.Headers.Location}");
        }

        Assert.Single(told);
    }

    [Fact]
    public async Task A_link_for_a_new_password_counts_once_and_ends_every_session()
    {
        var member = await service.Member("New Password", (RunningService.Mine, PracticeRole.Fitter));
        using var elsewhere = await service.SignedIn(member);
        var account = (await service.Services.GetRequiredService<AccountDocuments>().Load(member.AccountId, CancellationToken.None))!;
        var path = new Uri(service.Services.GetRequiredService<AccountLinks>().NewPassword(account)).AbsolutePath;
        using var browser = service.Browser();
        await browser.Send(path, path, ("password", "eleven dun ponies trot"));
        Assert.Equal(HttpStatusCode.Unauthorized, (await elsewhere.Get("/api/horses")).StatusCode);
        await browser.SignIn(member.Email, "eleven dun ponies trot");

        var replayed = await browser.Page(path);
        Assert.DoesNotContain("name=\"password\"", replayed, StringComparison.Ordinal);
        Assert.Contains("This link does not work any more.", replayed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_for_a_new_password_that_is_over_altered_or_for_something_else_says_the_same_sentence()
    {
        var member = await service.Member("Late With The Link", (RunningService.Mine, PracticeRole.Fitter));
        var account = (await service.Services.GetRequiredService<AccountDocuments>().Load(member.AccountId, CancellationToken.None))!;
        var protection = service.Services.GetRequiredService<IDataProtectionProvider>();
        var links = service.Services.GetRequiredService<AccountLinks>();
        var good = new Uri(links.NewPassword(account)).AbsolutePath;
        var seal = protection.CreateProtector("account links").ToTimeLimitedDataProtector();
        var over =
            "/new-password/"
            + seal.Protect(
                System.Text.Json.JsonSerializer.Serialize(
                    new AccountLink(AccountLinkKind.NewPassword, account.Id, account.SecurityStamp, null)
                ),
                TestClock.Running.GetUtcNow().AddMinutes(-1)
            );
        var other = new Uri(links.ConfirmAddress(account, "elsewhere@members.invalid")).AbsolutePath.Replace(
            "/confirm-address/",
            "/new-password/",
            StringComparison.Ordinal
        );
        using var browser = service.Browser();
        Assert.Contains("name=\"password\"", await browser.Page(good), StringComparison.Ordinal);
        var said = new HashSet<string>(StringComparer.Ordinal);
        foreach (var path in new[] { over, other, good[..^6] + "AAAAAA", "/new-password/nothing" })
        {
            var page = await browser.Page(path);
            Assert.Contains("This link does not work any more.", page, StringComparison.Ordinal);
            said.Add(page);
        }

        Assert.Single(said);
    }

    [Fact]
    public async Task A_password_is_changed_with_the_old_one_and_a_letter_tells_its_owner()
    {
        var member = await service.Member("Password Changer", (RunningService.Mine, PracticeRole.Fitter));
        using var browser = await service.SignedIn(member);
        Assert.Contains(
            "refused=",
            (
                await browser.Send("/me", "/me/password", ("current", Wrong), ("password", "thirteen bay cobs rest"))
            ).Headers.Location!.ToString(),
            StringComparison.Ordinal
        );
        Assert.Equal(
            "/me?done=password",
            (
                await browser.Send("/me", "/me/password", ("current", RunningService.Password), ("password", "thirteen bay cobs rest"))
            ).Headers.Location!.ToString()
        );
        using var again = service.Browser();
        await again.SignIn(member.Email, "thirteen bay cobs rest");
        for (var i = 0; i < 3000; i++)
        {
            foreach (var file in Directory.Exists(service.MailFolder) ? Directory.GetFiles(service.MailFolder, "*.eml") : [])
            {
                var letter = await File.ReadAllTextAsync(file);
                if (
                    letter.Contains(member.Email, StringComparison.Ordinal)
                    && letter.Contains("Your password was changed", StringComparison.Ordinal)
                )
                    return;
            }

            await Task.Delay(100);
        }

        Assert.Fail("no letter came in five minutes");
    }

    [Fact]
    public async Task What_decides_who_can_sign_in_asks_once_more_who_one_is()
    {
        var member = await service.Member("Long Signed In", (RunningService.Mine, PracticeRole.Fitter));
        using var browser = await service.SignedIn(member);
        var sessions = service.Services.GetRequiredService<SignInSessions>();
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/me/second-factor")).StatusCode);
        var session = Assert.Single(await sessions.SessionsOf(member.AccountId, CancellationToken.None));
        await sessions.Change(session.Id, s => s with { ConfirmedAt = s.ConfirmedAt.AddMinutes(-11) }, CancellationToken.None);

        var answer = await browser.Get("/me/second-factor");
        Assert.StartsWith("/sign-in/again", answer.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (
                await browser.Client.Write(
                    HttpMethod.Post,
                    "/api/me/keys",
                    new
                    {
                        label = "late",
                        most = "read-only",
                        days = 3,
                    }
                )
            ).StatusCode
        );
        await browser.Send("/sign-in/again?returnUrl=/me/second-factor", "/sign-in/again", ("password", RunningService.Password));
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/me/second-factor")).StatusCode);
    }

    [Fact]
    public async Task A_session_that_was_ended_from_another_browser_is_over_at_once()
    {
        var member = await service.Member("Two Browsers", (RunningService.Mine, PracticeRole.Fitter));
        using var first = await service.SignedIn(member);
        using var second = await service.SignedIn(member);
        Assert.Contains("Firefox on Android", await second.Page("/me/sessions"), StringComparison.Ordinal);
        await second.Send("/me/sessions", "/me/sessions/end-others");
        Assert.Equal(HttpStatusCode.Unauthorized, (await first.Get("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await second.Get("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task A_cookie_that_was_taken_along_is_worth_nothing_after_its_owner_signed_out()
    {
        var member = await service.Member("Signed Out", (RunningService.Mine, PracticeRole.Fitter));
        using var browser = await service.SignedIn(member);
        var stolen = browser.Cookies.GetCookieHeader(service.Address);
        await browser.Send("/me", "/sign-out");
        using var thief = service.Anonymous();
        thief.DefaultRequestHeaders.TryAddWithoutValidation("Cookie", stolen);
        Assert.Equal(HttpStatusCode.Unauthorized, (await thief.GetAsync("/api/horses")).StatusCode);
    }

    [Theory]
    [InlineData("password")]
    [InlineData("Password123!")]
    [InlineData("qwertyuiop")]
    [InlineData("aaaaaaaaaaaaaaaa")]
    [InlineData("short")]
    public async Task A_password_that_is_guessed_first_is_not_taken(string password)
    {
        using var scope = service.Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var made = await users.CreateAsync(new Account { Id = Guid.NewGuid(), Email = $"{Guid.NewGuid():N}@weak.invalid" }, password);
        Assert.False(made.Succeeded);
    }

    [Fact]
    public async Task A_way_back_that_leads_to_another_site_is_not_taken()
    {
        var member = await service.Member("Led Astray", (RunningService.Mine, PracticeRole.Fitter));
        foreach (
            var elsewhere in new[] { "https://elsewhere.invalid/", "//elsewhere.invalid/", "/\\elsewhere.invalid", "javascript:alert(1)" }
        )
        {
            using var browser = service.Browser();
            var answer = await browser.Send(
                "/sign-in",
                "/sign-in",
                ("email", member.Email),
                ("password", RunningService.Password),
                ("returnUrl", elsewhere)
            );
            Assert.Equal("/", answer.Headers.Location!.ToString());
        }
    }

    [Fact]
    public async Task One_code_of_the_app_signs_in_once()
    {
        var store = service.Services.GetRequiredService<AccountDocuments>();
        var member = await service.Member("Coded", (RunningService.Mine, PracticeRole.Fitter));
        using var scope = service.Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var account = (await users.FindByIdAsync(member.AccountId.ToString()))!;
        Assert.Equal([], (await users.ResetAuthenticatorKeyAsync(account)).Errors.Select(e => e.Code));
        Assert.Equal([], (await users.SetTwoFactorEnabledAsync(account, true)).Errors.Select(e => e.Code));
        var secret = (await users.GetAuthenticatorKeyAsync(account))!;
        var code = TimeCodes.At(secret, TestClock.Running.GetUtcNow());
        using var first = service.Browser();
        Assert.Equal(
            "/sign-in/code",
            (
                await first.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", RunningService.Password))
            ).Headers.Location!.ToString()
        );
        var wrong = await first.Send("/sign-in/code", "/sign-in/code", ("code", code == "000000" ? "000001" : "000000"));
        Assert.Contains("failed=1", wrong.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.Equal("/", (await first.Send("/sign-in/code", "/sign-in/code", ("code", code))).Headers.Location!.ToString());
        Assert.Equal(HttpStatusCode.OK, (await first.Get("/api/horses")).StatusCode);

        using var second = service.Browser();
        await second.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", RunningService.Password));
        Assert.Contains(
            "failed=1",
            (await second.Send("/sign-in/code", "/sign-in/code", ("code", code))).Headers.Location!.ToString(),
            StringComparison.Ordinal
        );
        Assert.NotEqual(0, (await store.Load(member.AccountId, CancellationToken.None))!.LastCodeStep);
    }

    [Fact]
    public async Task After_six_wrong_codes_the_right_one_rests_too_and_the_password_is_not_told_of_it()
    {
        var member = await service.Member("Guessed Codes", (RunningService.Mine, PracticeRole.Fitter));
        using var scope = service.Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var account = (await users.FindByIdAsync(member.AccountId.ToString()))!;
        await users.ResetAuthenticatorKeyAsync(account);
        await users.SetTwoFactorEnabledAsync(account, true);
        var code = TimeCodes.At((await users.GetAuthenticatorKeyAsync(account))!, TestClock.Running.GetUtcNow());
        using var browser = service.Browser();
        await browser.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", RunningService.Password));
        for (var i = 0; i < 6; i++)
            await browser.Send("/sign-in/code", "/sign-in/code", ("code", code == "000000" ? "000001" : "000000"));
        var right = await browser.Send("/sign-in/code", "/sign-in/code", ("code", code));
        Assert.Contains("failed=1", right.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.Get("/api/horses")).StatusCode);

        var after = (await service.Services.GetRequiredService<AccountDocuments>().Load(member.AccountId, CancellationToken.None))!;
        Assert.Equal((0, null), (after.FailedSignIns, after.LockedUntil));
        using var elsewhere = service.Browser();
        var again = await elsewhere.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", RunningService.Password));
        Assert.Equal("/sign-in/code", again.Headers.Location!.ToString());
    }

    [Fact]
    public async Task Two_who_are_signed_in_behind_one_address_have_each_their_own_measure()
    {
        var state = Directory.CreateTempSubdirectory("backhistory-guesses-");
        try
        {
            await using var host = await ServedHost.Start(
                await TestServer.NewDatabase(),
                state.FullName,
                s => s with { Access = s.Access with { Limits = new AccessLimits(4, 1000, 1000) } },
                "one",
                "two"
            );
            using var first = new Browser(host.Address);
            using var second = new Browser(host.Address);
            await first.SignIn(ServedHost.EmailOf("one"), ServedHost.Password);
            await second.SignIn(ServedHost.EmailOf("two"), ServedHost.Password);
            var answers = new List<string>();
            for (var i = 0; i < 5; i++)
                answers.Add(
                    $"{(await first.Send("/sign-in/again?returnUrl=/me", "/sign-in/again", ("password", Wrong))).Headers.Location}"
                );
            Assert.Equal(4, answers.Count(a => a.StartsWith("/sign-in/again?failed=1", StringComparison.Ordinal)));
            Assert.StartsWith("/sign-in/again?often=1", answers[^1], StringComparison.Ordinal);
            var other = await second.Send("/sign-in/again?returnUrl=/me", "/sign-in/again", ("password", ServedHost.Password));
            Assert.Equal("/me", other.Headers.Location!.ToString());
        }
        finally
        {
            state.Delete(recursive: true);
        }
    }

    [Theory]
    [Trait("source", "RFC 6238, appendix B (SHA-1), last six digits; from memory")]
    [InlineData(59, "287082")]
    [InlineData(1111111109, "081804")]
    [InlineData(1234567890, "005924")]
    [InlineData(2000000000, "279037")]
    public void The_codes_are_those_of_the_standard(long seconds, string code)
    {
        var at = DateTimeOffset.FromUnixTimeSeconds(seconds);
        Assert.Equal(code, TimeCodes.At(StandardSecret, at));
        Assert.Equal(seconds / 30, TimeCodes.StepOf(StandardSecret, code, at));
    }

    /// <summary>The octets 12345678901234567890 of the standard, in base 32.</summary>
    private const string StandardSecret = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ";

    [Fact]
    public void A_code_is_good_for_the_step_before_and_no_other()
    {
        var at = DateTimeOffset.FromUnixTimeSeconds(1_234_567_890);
        var code = TimeCodes.At(StandardSecret, at);
        Assert.Equal(TimeCodes.StepOf(StandardSecret, code, at), TimeCodes.StepOf(StandardSecret, code, at.AddSeconds(30)));
        Assert.NotNull(TimeCodes.StepOf(StandardSecret, $" {code[..3]} {code[3..]}", at));
        Assert.Null(TimeCodes.StepOf(StandardSecret, code, at.AddSeconds(60)));
        Assert.Null(TimeCodes.StepOf(StandardSecret, code, at.AddSeconds(-30)));
        Assert.Null(TimeCodes.StepOf(StandardSecret, "", at));
        Assert.Null(TimeCodes.StepOf(StandardSecret, $"{code}0", at));
        Assert.Null(TimeCodes.StepOf(StandardSecret, "not a code", at));
    }

    [Fact]
    public async Task Whoever_guesses_often_is_sent_to_wait_from_one_address_and_at_one_account()
    {
        var state = Directory.CreateTempSubdirectory("backhistory-guesses-");
        try
        {
            await using var host = await ServedHost.Start(
                await TestServer.NewDatabase(),
                state.FullName,
                s => s with { Access = s.Access with { Limits = new AccessLimits(5, 40, 30) } },
                "guessed"
            );
            using var browser = new Browser(host.Address);
            var answers = new List<string>();
            for (var i = 0; i < 8; i++)
                answers.Add(
                    (
                        await browser.Send("/sign-in", "/sign-in", ("email", $"guess{i}@nowhere.invalid"), ("password", Wrong))
                    ).Headers.Location!.ToString()
                );
            Assert.Equal(5, answers.Count(a => a == "/sign-in?failed=1"));
            Assert.Equal(3, answers.Count(a => a == "/sign-in?often=1"));
            Assert.Contains("Wait a minute", await browser.Page("/sign-in?often=1"), StringComparison.Ordinal);

            // The address as a whole has its measure too, and so has a program.
            var anonymous = await Many(() => browser.Get("/sign-in"), 40);
            Assert.Contains(HttpStatusCode.TooManyRequests, anonymous);
            using var program = host.Client("guessed");
            var asked = await Many(() => program.GetAsync("/api/horses"), 60);
            Assert.InRange(asked.Count(a => a == HttpStatusCode.OK), 20, 40);
            var refused = await program.GetAsync("/api/horses");
            Assert.True(refused.Headers.RetryAfter is not null);
            Assert.Contains("wait a moment", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
            Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/health/live")).StatusCode);
        }
        finally
        {
            state.Delete(recursive: true);
        }
    }

    [Fact]
    public void Seals_hold_over_a_restart_and_their_keys_are_for_the_service_alone()
    {
        var state = Directory.CreateTempSubdirectory("backhistory-keys-");
        try
        {
            string Seal(Func<IDataProtector, string> use)
            {
                using var services = new ServiceCollection()
                    .AddLogging()
                    .AddAccess(
                        new Settings(
                            "http://127.0.0.1:0",
                            state.FullName,
                            null,
                            new MailSettings(null, 25, null, null, "a@b.invalid", "b.invalid", "."),
                            false,
                            null
                        )
                    )
                    .BuildServiceProvider();
                return use(services.GetRequiredService<IDataProtectionProvider>().CreateProtector("shared links"));
            }

            var token = Seal(p => p.Protect("a horse"));
            Assert.Equal("a horse", Seal(p => p.Unprotect(token)));
            if (!OperatingSystem.IsWindows())
                Assert.Equal(
                    UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
                    File.GetUnixFileMode(Path.Combine(state.FullName, "keys"))
                );
        }
        finally
        {
            state.Delete(recursive: true);
        }
    }

    private static async Task<List<HttpStatusCode>> Many(Func<Task<HttpResponseMessage>> ask, int times)
    {
        var answers = new List<HttpStatusCode>();
        for (var i = 0; i < times; i++)
            answers.Add((await ask()).StatusCode);
        return answers;
    }
}
