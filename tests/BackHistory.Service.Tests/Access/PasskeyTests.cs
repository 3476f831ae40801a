using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>Passkeys, made and used by a device in software against the service as it is served; and what a thief or a false page would
/// try.</summary>
public sealed partial class PasskeyTests(RunningService service)
{
    private const string Refused = "/sign-in?failed=passkey";

    private string Origin => service.Address.GetLeftPart(UriPartial.Authority);

    [Fact]
    public async Task A_passkey_signs_in_without_a_password_and_counts_as_two_factors()
    {
        var member = await service.Member("Passkey Owner", (RunningService.Mine, PracticeRole.Fitter));
        using var device = new SoftAuthenticator { Counter = 1 };
        using var first = await service.SignedIn(member);
        using var elsewhere = await service.SignedIn(member);
        Assert.Equal("/me/second-factor?done=passkey", await Add(first, device));
        Assert.Equal(HttpStatusCode.Unauthorized, (await elsewhere.Get("/api/horses")).StatusCode);

        // Nobody of the invented practice any more: from now on a password alone opens no practice.
        await Accounts.Change(member.AccountId, a => a.Invented = false, CancellationToken.None);
        using var browser = service.Browser();
        Assert.Equal("/", await SignIn(browser, device));
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/api/horses")).StatusCode);
        using var byPassword = service.Browser();
        await byPassword.SignIn(member.Email, RunningService.Password);
        Assert.Equal(HttpStatusCode.Forbidden, (await byPassword.Get("/api/horses")).StatusCode);

        using var again = service.Browser();
        Assert.Equal("/", await SignIn(again, device));
        var kept = Assert.Single((await Accounts.Load(member.AccountId, CancellationToken.None))!.Passkeys);
        Assert.Equal(device.Counter, kept.SignCount);
        Assert.True(kept.UserVerified);
    }

    [Fact]
    public async Task An_answer_that_a_page_of_another_address_got_out_of_the_device_is_not_taken()
    {
        using var device = await Made("Phished");
        foreach (
            var origin in new[]
            {
                "https://false.invalid",
                Origin.Replace("http://", "https://", StringComparison.Ordinal),
                Origin + ".false.invalid",
                "null",
                "",
            }
        )
        {
            using var browser = service.Browser();
            Assert.Equal(Refused, await SignIn(browser, device, o => device.Get(o, origin), sentFrom: origin));
        }

        // A device makes an answer for the address that it sees: relayed from a false page it is signed for another.
        using var relayed = service.Browser();
        Assert.Equal(Refused, await SignIn(relayed, device, o => device.Get(o, Origin, domain: "false.invalid")));
        using var honest = service.Browser();
        Assert.Equal("/", await SignIn(honest, device));
    }

    [Fact]
    public async Task No_passkey_is_made_for_a_page_of_another_address_or_without_asking_the_devices_owner()
    {
        var member = await service.Member("Careful With Passkeys", (RunningService.Mine, PracticeRole.Fitter));
        using var browser = await service.SignedIn(member);
        using var device = new SoftAuthenticator();
        Assert.Equal("/me/second-factor?failed=passkey", await Add(browser, device, o => device.Create(o, "https://false.invalid")));
        using var silent = new SoftAuthenticator { Verifies = false };
        Assert.Equal("/me/second-factor?failed=passkey", await Add(browser, silent));
        Assert.Empty((await Accounts.Load(member.AccountId, CancellationToken.None))!.Passkeys);
        Assert.Contains("The passkey was not added.", await browser.Page("/me/second-factor?failed=passkey"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_answer_counts_once_even_with_the_cookie_that_carried_its_challenge()
    {
        // A device that does not count: only the challenge tells one answer from the next.
        using var device = await Made("Replayed");
        using var browser = service.Browser();
        var (options, token) = await Options(browser, "/sign-in", "/sign-in/passkey");
        var answer = device.Get(options, Origin);
        var taken = browser.Cookies.GetCookieHeader(service.Address);
        Assert.Equal("/", await Send(browser.Client, "/sign-in/passkey", token, answer));

        using var sameBrowser = service.Browser();
        var (_, other) = await Options(sameBrowser, "/sign-in", "/sign-in/passkey");
        Assert.Equal(Refused, await Send(sameBrowser.Client, "/sign-in/passkey", other, answer));
        using var thief = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false })
        {
            BaseAddress = service.Address,
        };
        thief.DefaultRequestHeaders.TryAddWithoutValidation("Cookie", taken);
        Assert.Equal(Refused, await Send(thief, "/sign-in/passkey", token, answer));
    }

    [Fact]
    public async Task Without_an_open_challenge_nothing_is_taken()
    {
        using var device = await Made("Unasked");
        using var browser = service.Browser();
        var invented = JsonDocument.Parse($$"""{"challenge":"AAAAAAAAAAAAAAAAAAAAAA","rpId":"{{service.Address.Host}}"}""").RootElement;
        var token = await Token(browser, "/sign-in", "/sign-in/passkey");
        foreach (var answer in new[] { device.Get(invented, Origin), "", "{}", "[]", "no JSON", "{\"id\":7}", new string('x', 30_000) })
            Assert.Equal(Refused, await Send(browser.Client, "/sign-in/passkey", token, answer));
        Assert.Contains("The passkey did not sign you in.", await browser.Page(Refused), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_counter_that_goes_back_or_stands_still_betrays_a_copy()
    {
        using var device = await Made("Copied Device", counter: 10);
        using var browser = service.Browser();
        Assert.Equal("/", await SignIn(browser, device));
        var reached = device.Counter;
        foreach (var copy in new[] { reached - 1, reached - 5 })
        {
            // The next use raises it: to what was seen last, and to less.
            device.Counter = copy;
            using var thief = service.Browser();
            Assert.Equal(Refused, await SignIn(thief, device));
        }

        device.Counter = reached;
        using var honest = service.Browser();
        Assert.Equal("/", await SignIn(honest, device));
    }

    [Fact]
    public async Task An_altered_signature_and_another_key_under_the_same_name_are_not_taken()
    {
        using var device = await Made("Signed");
        foreach (var at in new[] { 8, ^1 })
        {
            using var browser = service.Browser();
            Assert.Equal(Refused, await SignIn(browser, device, o => device.Get(o, Origin, change: s => s[at] ^= 0x01)));
        }

        using var impostor = new SoftAuthenticator { CredentialId = device.CredentialId, UserHandle = device.UserHandle };
        using var another = service.Browser();
        Assert.Equal(Refused, await SignIn(another, impostor));
    }

    [Fact]
    public async Task A_passkey_opens_the_account_it_was_made_for_and_no_other()
    {
        var victim = await service.Member("Passkey Victim", (RunningService.Mine, PracticeRole.Manager));
        using var theirs = new SoftAuthenticator();
        using (var browser = await service.SignedIn(victim))
            await Add(browser, theirs);
        using var own = await Made("Passkey Attacker");

        // An own passkey that claims the other's account.
        var handle = own.UserHandle;
        own.UserHandle = theirs.UserHandle;
        using var claims = service.Browser();
        Assert.Equal(Refused, await SignIn(claims, own));
        own.UserHandle = handle;
        using var honest = service.Browser();
        Assert.Equal("/", await SignIn(honest, own));

        // A passkey under the name of one that stands with another account, and one that was made for another's challenge.
        var attacker = await service.Member("Passkey Taker Over", (RunningService.Mine, PracticeRole.ReadOnly));
        using var signedIn = await service.SignedIn(attacker);
        using var twin = new SoftAuthenticator { CredentialId = theirs.CredentialId };
        Assert.Equal("/me/second-factor?failed=passkey", await Add(signedIn, twin));
        using var other = await service.SignedIn(await service.Member("Passkey Lender", (RunningService.Mine, PracticeRole.ReadOnly)));
        var (options, _) = await Options(other, "/me/second-factor", "/me/passkeys");
        using var lent = new SoftAuthenticator();
        Assert.Equal("/me/second-factor?failed=passkey", await Add(signedIn, lent, _ => lent.Create(options, Origin)));
        Assert.Empty((await Accounts.Load(attacker.AccountId, CancellationToken.None))!.Passkeys);
        Assert.Single((await Accounts.Load(victim.AccountId, CancellationToken.None))!.Passkeys);
    }

    [Fact]
    public async Task Six_wrong_passwords_rest_the_password_and_do_not_lock_out_whoever_comes_with_the_passkey()
    {
        using var device = await Made("Guessed At With Passkey");
        const string email = "guessed.at.with.passkey@members.invalid";
        using var guesser = service.Browser();
        for (var i = 0; i < 6; i++)
            await guesser.Send("/sign-in", "/sign-in", ("email", email), ("password", "not the password at all"));
        var right = await guesser.Send("/sign-in", "/sign-in", ("email", email), ("password", RunningService.Password));
        Assert.Equal("/sign-in?failed=1", right.Headers.Location!.ToString());

        using var owner = service.Browser();
        Assert.Equal("/", await SignIn(owner, device));
        Assert.Equal(HttpStatusCode.OK, (await owner.Get("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task A_password_alone_sets_nothing_up_for_an_account_with_a_passkey_and_enters_nothing()
    {
        using var device = await Made("Password Known");
        var id = await Ordinary("Password Known");
        await Accounts.Change(
            id,
            a => a.Shared = [new HeldGrant(RunningService.Mine, Guid.NewGuid(), Guid.NewGuid())],
            CancellationToken.None
        );
        using var thief = service.Browser();
        await thief.SignIn("password.known@members.invalid", RunningService.Password);
        foreach (var page in new[] { "/me/second-factor", "/me/sign-in-services", "/shared-with-me", "/practice" })
        {
            var answer = await thief.Get(page);
            Assert.StartsWith($"{page} /sign-in/again", $"{page} {answer.Headers.Location}", StringComparison.Ordinal);
        }

        var token = await Token(thief, "/me", "/sign-out");
        foreach (
            var act in new[]
            {
                "/me/second-factor/begin",
                "/me/second-factor/confirm",
                "/me/passkeys/options",
                "/me/passkeys/remove",
                "/me/address",
            }
        )
        {
            var answer = await thief.Client.PostAsync(act, new FormUrlEncodedContent([new("__RequestVerificationToken", token)]));
            Assert.Equal("/sign-in/again?returnUrl=%2Fme", $"{answer.Headers.Location}");
        }

        var key = await thief.Client.Write(
            HttpMethod.Post,
            "/api/me/keys",
            new
            {
                label = "theirs",
                most = "read-only",
                days = 3,
            }
        );
        Assert.Equal(HttpStatusCode.Forbidden, key.StatusCode);
        var account = (await Accounts.Load(id, CancellationToken.None))!;
        Assert.Equal((false, null, 1), (account.TwoFactor, account.AuthenticatorKey, account.Passkeys.Count));
        // The password once more proves nothing more.
        var again = await thief.Page("/sign-in/again?returnUrl=/me/second-factor");
        Assert.Contains("You have set up a passkey", again, StringComparison.Ordinal);
        Assert.DoesNotContain("name=\"password\"", again, StringComparison.Ordinal);
        await thief.Client.PostAsync(
            "/sign-in/again",
            new FormUrlEncodedContent([new("__RequestVerificationToken", token), new("password", RunningService.Password)])
        );
        Assert.StartsWith("/sign-in/again", $"{(await thief.Get("/me/second-factor")).Headers.Location}", StringComparison.Ordinal);

        using var owner = service.Browser();
        Assert.Equal("/", await SignIn(owner, device));
        Assert.Equal(HttpStatusCode.OK, (await owner.Get("/me/second-factor")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await owner.Get("/shared-with-me")).StatusCode);
    }

    [Fact]
    public async Task An_account_with_passkeys_only_gets_a_password_from_nobody_who_sits_down_at_its_open_browser()
    {
        using var device = await Made("Passkeys Only");
        var id = await Ordinary("Passkeys Only");
        await Accounts.Change(id, a => a.PasswordHash = null, CancellationToken.None);
        using var open = service.Browser();
        Assert.Equal("/", await SignIn(open, device));
        var sessions = service.Services.GetRequiredService<SignInSessions>();
        foreach (var session in await sessions.SessionsOf(id, CancellationToken.None))
            await sessions.Change(session.Id, s => s with { ConfirmedAt = s.ConfirmedAt.AddMinutes(-11) }, CancellationToken.None);

        var answer = await open.Send("/me", "/me/password", ("password", "fourteen roan mules graze"));
        Assert.StartsWith("/sign-in/again", $"{answer.Headers.Location}", StringComparison.Ordinal);
        Assert.Null((await Accounts.Load(id, CancellationToken.None))!.PasswordHash);

        // Nor does a password that came by a letter to its mailbox open more than the account's own page.
        var account = (await Accounts.Load(id, CancellationToken.None))!;
        var path = new Uri(service.Services.GetRequiredService<Service.Access.Letters.AccountLinks>().NewPassword(account)).AbsolutePath;
        using var mailbox = service.Browser();
        await mailbox.Send(path, path, ("password", "fifteen dappled mules graze"));
        await mailbox.SignIn(account.Email, "fifteen dappled mules graze");
        Assert.Equal(HttpStatusCode.Forbidden, (await mailbox.Get("/api/horses")).StatusCode);
        Assert.StartsWith("/sign-in/again", $"{(await mailbox.Get("/me/second-factor")).Headers.Location}", StringComparison.Ordinal);
    }

    /// <summary>Nobody of the invented practice any more: the password is a secret.</summary>
    private async Task<Guid> Ordinary(string name)
    {
        var id = History.DeterministicId.From("member", name);
        await Accounts.Change(id, a => a.Invented = false, CancellationToken.None);
        return id;
    }

    private AccountDocuments Accounts => service.Services.GetRequiredService<AccountDocuments>();

    /// <summary>A device that holds a passkey of a new member.</summary>
    private async Task<SoftAuthenticator> Made(string name, uint counter = 0)
    {
        var device = new SoftAuthenticator { Counter = counter };
        using var browser = await service.SignedIn(await service.Member(name, (RunningService.Mine, PracticeRole.Fitter)));
        Assert.Equal("/me/second-factor?done=passkey", await Add(browser, device));
        return device;
    }

    private async Task<string> Add(Browser browser, SoftAuthenticator device, Func<JsonElement, string>? answer = null)
    {
        var (options, token) = await Options(browser, "/me/second-factor", "/me/passkeys");
        Assert.Equal("none", options.TryGetProperty("attestation", out var attestation) ? attestation.GetString() : "none");
        return await Send(
            browser.Client,
            "/me/passkeys",
            token,
            answer is null ? device.Create(options, Origin) : answer(options),
            sentFrom: Origin
        );
    }

    private async Task<string> SignIn(
        Browser browser,
        SoftAuthenticator device,
        Func<JsonElement, string>? answer = null,
        string? sentFrom = null
    )
    {
        var (options, token) = await Options(browser, "/sign-in", "/sign-in/passkey");
        return await Send(
            browser.Client,
            "/sign-in/passkey",
            token,
            answer is null ? device.Get(options, Origin) : answer(options),
            sentFrom
        );
    }

    /// <summary>As the page's script asks for them: with the form's token, which then goes with the answer too.</summary>
    private static async Task<(JsonElement Options, string Token)> Options(Browser browser, string page, string action)
    {
        var token = await Token(browser, page, action);
        var answer = await browser.Client.PostAsync(
            action + "/options",
            new FormUrlEncodedContent([new("__RequestVerificationToken", token)])
        );
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Json(), token);
    }

    private static async Task<string> Token(Browser browser, string page, string action)
    {
        var form = Regex.Match(
            await browser.Page(page),
            $"<form[^>]*action=\"{Regex.Escape(action)}\".*?</form>",
            RegexOptions.Singleline,
            Regex.InfiniteMatchTimeout
        );
        Assert.True(form.Success, $"no form to {action} stands on {page}");
        return WebUtility.HtmlDecode(TokenField().Match(form.Value).Groups["v"].Value);
    }

    /// <returns>Where the service sends the browser.</returns>
    private async Task<string> Send(HttpClient client, string action, string token, string credential, string? sentFrom = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, action)
        {
            Content = new FormUrlEncodedContent([
                new("__RequestVerificationToken", token),
                new("credential", credential),
                new("name", "A device in software"),
            ]),
        };
        request.Headers.TryAddWithoutValidation("Origin", sentFrom ?? Origin);
        var answer = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return answer.Headers.Location!.ToString();
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]*value=\"(?<v>[^\"]*)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex TokenField();
}
