using System.Net;
using BackHistory.Service.Access;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>A host that knows a sign-in service of somebody else, and that service.</summary>
public sealed class HostWithProvider : IAsyncLifetime
{
    internal const string Practice = "elsewhere";
    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-elsewhere-");

    internal OpenIdProvider Provider { get; private set; } = null!;

    internal ServedHost Host { get; private set; } = null!;

    public async ValueTask InitializeAsync() => (Provider, Host) = await Start("one");

    internal async Task<(OpenIdProvider Provider, ServedHost Host)> Start(string state)
    {
        var provider = await OpenIdProvider.Start();
        var host = await ServedHost.Start(
            await TestServer.NewDatabase(),
            Path.Combine(_state.FullName, state),
            s => s with { Access = s.Access with { External = [provider.Settings] } },
            Practice
        );
        return (provider, host);
    }

    public async ValueTask DisposeAsync()
    {
        await Host.DisposeAsync();
        await Provider.DisposeAsync();
        _state.Delete(recursive: true);
    }
}

/// <summary>Signing in with an account elsewhere, against a real OpenID Connect provider: to a page and back, and what is refused on the
/// way.</summary>
public sealed class ExternalSignInTests(HostWithProvider elsewhere) : IClassFixture<HostWithProvider>, IAsyncLifetime
{
    private const string Sorry = "Signing in with the other service did not work.";
    private readonly Guid _account = Guid.NewGuid();

    private OpenIdProvider Provider => elsewhere.Provider;

    private ServedHost Host => elsewhere.Host;

    private string Email => $"{_account:N}@members.invalid";

    /// <summary>One account here and one there for each test.</summary>
    public async ValueTask InitializeAsync()
    {
        (Provider.Subject, Provider.Declines, Provider.OtherNonce) = ($"there {_account}", false, null);
        using var scope = Host.Services.CreateScope();
        var person = await Host.Person(HostWithProvider.Practice, $"Signs In Elsewhere {_account}");
        // The second factor has a test of its own below.
        var account = new Account
        {
            Id = _account,
            Email = Email,
            EmailConfirmed = true,
            Invented = true,
            Memberships = [new Membership(HostWithProvider.Practice, person, PracticeRole.Fitter)],
        };
        Assert.True(
            (await scope.ServiceProvider.GetRequiredService<UserManager<Account>>().CreateAsync(account, ServedHost.Password)).Succeeded
        );
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    [Fact]
    public async Task An_account_elsewhere_that_its_owner_tied_to_theirs_signs_in_and_reaches_the_page_that_was_asked_for()
    {
        await Tie();
        using var browser = new Browser(Host.Address);
        var asked = await Begin(browser, "/practice?from=elsewhere");
        // Code flow with PKCE, a state and a nonce; nothing but who it is is asked for.
        var query = QueryHelpers.ParseQuery(asked.Query);
        Assert.Equal(
            ("code", "S256", "openid"),
            (query["response_type"].ToString(), query["code_challenge_method"].ToString(), query["scope"].ToString())
        );
        Assert.All(["state", "nonce", "code_challenge"], (string name) => Assert.False(string.IsNullOrEmpty(query[name])));

        var page = await Follow(browser, await browser.Get((await Callback(browser, asked)).ToString()));
        Assert.Equal("/practice?from=elsewhere", page.RequestMessage!.RequestUri!.PathAndQuery);
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/api/horses")).StatusCode);
        // Its owner sees by which service they are signed in, and signs out like everybody.
        Assert.Equal(Provider.Settings.Scheme, Assert.Single((await Sessions()).Select(s => s.Method).Distinct(), m => m != "pwd"));
        await browser.Send("/me", "/sign-out");
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.Get("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task An_altered_state_and_one_of_another_browser_are_refused_kindly()
    {
        await Tie();
        var given = Provider.Given;
        using (var browser = new Browser(Host.Address))
        {
            var back = (await Callback(browser, await Begin(browser))).ToString();
            var altered = back.Replace("state=", "state=A", StringComparison.Ordinal);
            Assert.NotEqual(back, altered);
            await IsRefused(browser, altered);
            await IsRefused(browser, back[..back.IndexOf("&state=", StringComparison.Ordinal)]);
        }

        // Somebody sends a victim the answer to their own errand: it counts only in the browser that set out.
        using var attacker = new Browser(Host.Address);
        using var victim = new Browser(Host.Address);
        await Begin(victim);
        await IsRefused(victim, (await Callback(attacker, await Begin(attacker))).ToString());
        Assert.Equal(given, Provider.Given);
    }

    [Fact]
    public async Task An_answer_and_a_code_that_were_used_are_refused_kindly()
    {
        await Tie();
        using var browser = new Browser(Host.Address);
        var first = await Callback(browser, await Begin(browser));
        var errand = browser.Cookies.GetAllCookies().Select(c => new Cookie(c.Name, c.Value, c.Path, c.Domain)).ToList();
        Assert.Equal(HttpStatusCode.OK, (await Follow(browser, await browser.Get(first.ToString()))).StatusCode);
        await browser.Send("/me", "/sign-out");
        var (asked, given) = (Provider.Asked, Provider.Given);
        await IsRefused(browser, first.ToString());
        // The same answer does not even get as far as the provider; the code in a fresh one does, and is not taken there.
        Assert.Equal(asked, Provider.Asked);
        var second = QueryHelpers.ParseQuery((await Callback(browser, await Begin(browser))).Query);
        var code = QueryHelpers.ParseQuery(first.Query)["code"].ToString();
        var mixed = new Dictionary<string, string?>(StringComparer.Ordinal) { ["code"] = code, ["state"] = second["state"] };
        await IsRefused(browser, QueryHelpers.AddQueryString(Provider.Settings.CallbackPath, mixed));
        Assert.Equal((asked + 1, given), (Provider.Asked, Provider.Given));

        // Not even where the cookies of the errand were kept and come again with it: the provider takes no code twice.
        using var kept = new Browser(Host.Address);
        foreach (var cookie in errand)
            kept.Cookies.Add(cookie);
        await IsRefused(kept, first.ToString());
        Assert.Equal((asked + 2, given), (Provider.Asked, Provider.Given));
    }

    [Fact]
    public async Task Tokens_with_another_nonce_are_refused_kindly()
    {
        await Tie();
        using var browser = new Browser(Host.Address);
        var given = Provider.Given;
        Provider.OtherNonce = "of another errand";
        await IsRefused(browser, (await Callback(browser, await Begin(browser))).ToString());
        // The provider gave tokens; it is here that they were not taken.
        Assert.Equal(given + 1, Provider.Given);
        Provider.OtherNonce = null;
        var again = await Callback(browser, await Begin(browser));
        Assert.Equal(HttpStatusCode.OK, (await Follow(browser, await browser.Get(again.ToString()))).StatusCode);
    }

    [Fact]
    public async Task A_code_that_was_taken_on_its_way_gives_nothing_without_the_verifier_and_nothing_in_another_errand()
    {
        await Tie();
        var given = Provider.Given;
        using var browser = new Browser(Host.Address);
        var code = QueryHelpers.ParseQuery((await Callback(browser, await Begin(browser))).Query)["code"].ToString();
        using var thief = new HttpClient();
        // Even with the client's own secret.
        foreach (var verifier in new[] { null, new string('v', 43) })
        {
            var fields = new Dictionary<string, string>(StringComparer.Ordinal)
            {
                ["grant_type"] = "authorization_code",
                ["code"] = code,
                ["client_id"] = Provider.Settings.ClientId,
                ["client_secret"] = Provider.Settings.ClientSecret!,
                ["redirect_uri"] = new Uri(Host.Address, Provider.Settings.CallbackPath).AbsoluteUri,
            };
            if (verifier is not null)
                fields["code_verifier"] = verifier;
            var answer = await thief.PostAsync(new Uri(Provider.Settings.Authority, "token"), new FormUrlEncodedContent(fields));
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
            code = QueryHelpers.ParseQuery((await Callback(browser, await Begin(browser))).Query)["code"].ToString();
        }

        // A fresh code of one errand in the answer to another: its verifier is of the other.
        using var victim = new Browser(Host.Address);
        var theirs = QueryHelpers.ParseQuery((await Callback(victim, await Begin(victim))).Query);
        var mixed = new Dictionary<string, string?>(StringComparer.Ordinal) { ["code"] = code, ["state"] = theirs["state"] };
        await IsRefused(victim, QueryHelpers.AddQueryString(Provider.Settings.CallbackPath, mixed));
        Assert.Equal(given, Provider.Given);
    }

    [Fact]
    public async Task Six_wrong_passwords_do_not_lock_out_whoever_comes_from_the_other_service()
    {
        await Tie();
        using var guesser = new Browser(Host.Address);
        for (var i = 0; i < 6; i++)
            await guesser.Send("/sign-in", "/sign-in", ("email", Email), ("password", "not the password at all"));
        var right = await guesser.Send("/sign-in", "/sign-in", ("email", Email), ("password", ServedHost.Password));
        Assert.Equal("/sign-in?failed=1", right.Headers.Location!.ToString());
        using var browser = new Browser(Host.Address);
        var page = await Follow(browser, await browser.Get((await Callback(browser, await Begin(browser))).ToString()));
        Assert.Equal((HttpStatusCode.OK, "/practice"), (page.StatusCode, page.RequestMessage!.RequestUri!.AbsolutePath));
    }

    [Fact]
    public async Task Who_declines_there_and_whose_service_cannot_be_reached_come_back_to_a_sentence()
    {
        using var browser = new Browser(Host.Address);
        Provider.Declines = true;
        await IsRefused(browser, (await Callback(browser, await Begin(browser))).ToString());
        // A service that was never reached yet: its own description cannot be read.
        var (gone, fresh) = await elsewhere.Start("never reached");
        await using var stopped = fresh;
        await gone.DisposeAsync();
        using var other = new Browser(fresh.Address);
        var answer = await other.Send("/sign-in", "/sign-in/with", ("provider", gone.Settings.Scheme), ("returnUrl", "/saddles"));
        Assert.Equal("/sign-in?failed=elsewhere&returnUrl=%2Fsaddles", answer.Headers.Location?.ToString());
        Assert.Contains(Sorry, await other.Page(answer.Headers.Location!.ToString()), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_account_elsewhere_that_nobody_tied_opens_nothing_and_is_told_how_to_be_tied()
    {
        // Not even where it claims the address of an account here.
        Provider.Subject = Email;
        using var browser = new Browser(Host.Address);
        var page = await Follow(browser, await browser.Get((await Callback(browser, await Begin(browser))).ToString()));
        Assert.Equal("/sign-in", page.RequestMessage!.RequestUri!.AbsolutePath);
        Assert.Contains("signs nobody in here yet", await page.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.Get("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task An_account_with_a_second_factor_is_asked_for_it_after_the_other_service_too()
    {
        await Tie();
        using var scope = Host.Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var account = (await users.FindByEmailAsync(Email))!;
        await users.ResetAuthenticatorKeyAsync(account);
        await users.SetTwoFactorEnabledAsync(account, true);
        using var browser = new Browser(Host.Address);
        var page = await Follow(browser, await browser.Get((await Callback(browser, await Begin(browser, "/practice"))).ToString()));
        Assert.Equal("/sign-in/code?returnUrl=%2Fpractice", page.RequestMessage!.RequestUri!.PathAndQuery);
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.Get("/api/horses")).StatusCode);

        var secret = (await users.GetAuthenticatorKeyAsync(account))!;
        var code = TimeCodes.At(secret, TimeProvider.System.GetUtcNow());
        var entered = await browser.Send("/sign-in/code?returnUrl=%2Fpractice", "/sign-in/code", ("code", code));
        Assert.Equal("/practice", entered.Headers.Location?.ToString());
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/practice")).StatusCode);
    }

    [Fact]
    public async Task Tying_an_account_that_fails_comes_back_to_where_it_began_and_ties_nothing()
    {
        using var browser = new Browser(Host.Address);
        await browser.SignIn(Email, ServedHost.Password);
        Provider.Declines = true;
        var page = await Follow(browser, await browser.Get((await Callback(browser, await Going(await Add(browser)))).ToString()));
        Assert.Equal("/me/sign-in-services?failed=1", page.RequestMessage!.RequestUri!.PathAndQuery);
        Assert.Contains("Nothing was changed", await page.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Empty(
            (await Host.Services.GetRequiredService<AccountDocuments>().ByEmail(Email.ToUpperInvariant(), CancellationToken.None))!.Logins
        );
    }

    /// <summary>As its owner does it: signed in here, and then there.</summary>
    private async Task Tie()
    {
        using var browser = new Browser(Host.Address);
        await browser.SignIn(Email, ServedHost.Password);
        var page = await Follow(browser, await browser.Get((await Callback(browser, await Going(await Add(browser)))).ToString()));
        Assert.Equal("/me/sign-in-services?done=1", page.RequestMessage!.RequestUri!.PathAndQuery);
        Assert.Contains("signs you in", await page.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private Task<HttpResponseMessage> Add(Browser browser) =>
        browser.Send("/me/sign-in-services", "/me/sign-in-services/add", ("provider", Provider.Settings.Scheme));

    /// <returns>Where the provider is asked.</returns>
    private async Task<Uri> Begin(Browser browser, string returnUrl = "/practice") =>
        await Going(await browser.Send("/sign-in", "/sign-in/with", ("provider", Provider.Settings.Scheme), ("returnUrl", returnUrl)));

    /// <summary>By a page that goes on, since browsers hold a form back whose answer leads to another site.</summary>
    private async Task<Uri> Going(HttpResponseMessage sent)
    {
        var page = await sent.Content.ReadAsStringAsync();
        Assert.True(sent.StatusCode == HttpStatusCode.OK, $"{sent.StatusCode} {sent.Headers.Location}");
        var refresh = Assert.Single(sent.Headers.GetValues("Refresh"));
        var to = new Uri(refresh[(refresh.IndexOf("url=", StringComparison.Ordinal) + 4)..]);
        Assert.Equal(Provider.Settings.Authority.Authority, to.Authority);
        Assert.Contains($"href=\"{WebUtility.HtmlEncode(to.AbsoluteUri)}\"", page, StringComparison.Ordinal);
        return to;
    }

    /// <returns>Where the provider sends the browser back to.</returns>
    private async Task<Uri> Callback(Browser browser, Uri asked)
    {
        var answer = await browser.Get(asked.AbsoluteUri);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var back = answer.Headers.Location!;
        Assert.Equal((Host.Address.Authority, Provider.Settings.CallbackPath), (back.Authority, back.AbsolutePath));
        return back;
    }

    private static async Task<HttpResponseMessage> Follow(Browser browser, HttpResponseMessage answer)
    {
        while (answer.StatusCode is HttpStatusCode.Redirect)
            answer = await browser.Get(answer.Headers.Location!.ToString());
        return answer;
    }

    private static async Task IsRefused(Browser browser, string callback)
    {
        var page = await Follow(browser, await browser.Get(callback));
        Assert.Equal((HttpStatusCode.OK, "/sign-in"), (page.StatusCode, page.RequestMessage!.RequestUri!.AbsolutePath));
        Assert.Contains(Sorry, await page.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.Get("/api/horses")).StatusCode);
    }

    private Task<IReadOnlyList<SignInSession>> Sessions() =>
        Host.Services.GetRequiredService<SignInSessions>().SessionsOf(_account, CancellationToken.None);
}
