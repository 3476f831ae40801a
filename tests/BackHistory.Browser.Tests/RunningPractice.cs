using System.Globalization;
using System.Net.Http.Json;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(BackHistory.Browser.Tests.RunningPractice))]

namespace BackHistory.Browser.Tests;

/// <summary>The real host with the invented practice of forty horses, and one real browser; both serve all tests.</summary>
public sealed partial class RunningPractice : IAsyncLifetime
{
    private const int Horses = 40;

    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-browser-");
    private readonly Dictionary<PracticeRole, string> _signedIn = [];
    private readonly SemaphoreSlim _gate = new(1, 1);
    private ServedHost _host = null!;
    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;

    public IServiceProvider Services => _host.Services;

    public Uri Address => _host.Address;

    internal IBrowser Browser => _browser;

    /// <summary>A program with the key of the practice's administrator.</summary>
    public HttpClient Program() => _host.Client(ServedHost.InventedTenant);

    /// <summary>Every page, arranged once.</summary>
    internal EveryScreen Screens { get; private set; } = null!;

    public Post Post => new(Path.Combine(_state.FullName, "mail"));

    public async ValueTask InitializeAsync()
    {
        _host = await ServedHost.Invented(await TestServer.NewDatabase(), _state.FullName, Horses);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(
            new BrowserTypeLaunchOptions
            {
                ExecutablePath = ServedHost.Chromium,
                Headless = true,
                Args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
            }
        );
        Assertions.SetDefaultExpectTimeout(60_000);
        await EveryHorseIsAssessed();
        await (await SignedIn(PracticeRole.Administrator, Screen.Desk)).DisposeAsync();
        Screens = await EveryScreen.Of(this);
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
        await _host.DisposeAsync();
        _state.Delete(recursive: true);
        await TestServer.Stop();
    }

    /// <summary>The browser's calendar shows the day of the service's clock; its timers are its own.</summary>
    internal static string TheServersDay =>
        string.Create(
            CultureInfo.InvariantCulture,
            $$"""
            (() => {
              const Real = Date;
              const shift = {{TestClock.Running.GetUtcNow().ToUnixTimeMilliseconds()}}
                - {{TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds()}};
              globalThis.Date = class extends Real {
                constructor(...given) { if (given.length === 0) super(Real.now() + shift); else super(...given); }
                static now() { return Real.now() + shift; }
              };
            })();
            """
        );

    /// <summary>A browser window of somebody who is not signed in.</summary>
    /// <param name="of">Another host than the practice's.</param>
    /// <param name="scripts">Whether the browser runs those of the pages.</param>
    /// <param name="keeps">Whether it keeps pages for where there is no connection: it fetches whatever a day in the yard needs, beside
    /// every page of a horse, and only who leaves the connection wants that.</param>
    public async Task<IBrowserContext> Stranger(
        Screen screen,
        string? storage = null,
        Uri? of = null,
        bool scripts = true,
        bool keeps = false
    )
    {
        var context = await _browser.NewContextAsync(
            new BrowserNewContextOptions
            {
                BaseURL = (of ?? Address).ToString(),
                JavaScriptEnabled = scripts,
                ViewportSize = new ViewportSize { Width = screen.Width, Height = screen.Height },
                IsMobile = screen.Touch,
                HasTouch = screen.Touch,
                ColorScheme = screen.Dark ? ColorScheme.Dark : ColorScheme.Light,
                ReducedMotion = ReducedMotion.Reduce,
                Locale = "en-GB",
                TimezoneId = "Europe/Berlin",
                StorageState = storage,
                ServiceWorkers = keeps ? ServiceWorkerPolicy.Allow : ServiceWorkerPolicy.Block,
            }
        );
        context.SetDefaultTimeout(60_000);
        await context.AddInitScriptAsync(TheServersDay);
        return context;
    }

    /// <summary>A browser window of somebody who works in the practice and is signed in.</summary>
    public async Task<IBrowserContext> SignedIn(PracticeRole role, Screen screen, bool keeps = false)
    {
        await _gate.WaitAsync();
        try
        {
            if (!_signedIn.ContainsKey(role))
                _signedIn[role] = await SignIn(role);
        }
        finally
        {
            _gate.Release();
        }

        return await Stranger(screen, _signedIn[role], keeps: keeps);
    }

    /// <summary>A practice of a test's own on the same host, which the test may change as it likes, and its administrator's
    /// window.</summary>
    /// <param name="lettersLeave">At any hour; otherwise it is as new as a practice can be.</param>
    /// <param name="scripts">Whether the window runs those of the pages.</param>
    /// <param name="keeps">Whether it keeps pages for where there is no connection.</param>
    public async Task<IBrowserContext> OwnPractice(
        string name,
        Screen screen,
        bool lettersLeave = true,
        bool scripts = true,
        bool keeps = false
    )
    {
        await _host.Found(name, lettersLeave);
        var person = await _host.Person(name, "Administrator", PersonRole.Manager);
        return await Stranger(
            screen,
            await SignIn($"administrator@{name}.invalid.members.invalid", new Membership(name, person, PracticeRole.Administrator)),
            scripts: scripts,
            keeps: keeps
        );
    }

    /// <summary>One more person of such a practice.</summary>
    public Task<Guid> Person(string ownPractice, string name, PersonRole role) => _host.Person(ownPractice, name, role);

    /// <summary>A program with the key of that practice's administrator.</summary>
    public HttpClient Program(string ownPractice) => _host.Client(ownPractice);

    /// <summary>Waits for what follows a command a moment later.</summary>
    public static async Task Until(Func<Task<bool>> there, [CallerArgumentExpression(nameof(there))] string what = "")
    {
        for (var i = 0; i < 3000; i++)
        {
            if (await there())
                return;
            await Task.Delay(100);
        }

        throw new InvalidOperationException($"it did not come about in five minutes: {what}");
    }

    private async Task<string> SignIn(PracticeRole role)
    {
        var fitters = await Services
            .GetRequiredService<PracticeQueries>()
            .InRole(ServedHost.InventedTenant, PersonRole.Fitter, CancellationToken.None);
        return await SignIn(
            $"{role.ToString().ToLowerInvariant()}@members.invalid",
            new Membership(ServedHost.InventedTenant, fitters[0].Id, role)
        );
    }

    /// <summary>Makes an account and signs it in.</summary>
    /// <returns>What its browser keeps.</returns>
    public async Task<string> SignIn(string email, Membership membership)
    {
        using var scope = Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var account = new Account
        {
            Id = DeterministicId.From("member", email),
            Email = email,
            EmailConfirmed = true,
            Memberships = [membership],
            Working = membership.Practice,
            // The second factor has tests of its own.
            Invented = true,
        };
        Assert.True((await users.CreateAsync(account, ServedHost.Password)).Succeeded);
        // As the form sends it; that somebody can type it is what other tests are for.
        await using var window = await Stranger(Screen.Desk);
        var form = await (await window.APIRequest.GetAsync("/sign-in")).TextAsync();
        var sent = window.APIRequest.CreateFormData();
        sent.Append("email", email);
        sent.Append("password", ServedHost.Password);
        sent.Append("__RequestVerificationToken", Token().Match(form).Groups["token"].Value);
        var answer = await window.APIRequest.PostAsync("/sign-in", new() { Form = sent });
        Assert.Contains("<h1>Caseload</h1>", await answer.TextAsync(), StringComparison.Ordinal);
        return await window.StorageStateAsync();
    }

    private async Task EveryHorseIsAssessed()
    {
        using var program = Program();
        await Until(async () =>
        {
            var page = await program.GetFromJsonAsync<CaseloadPage>($"/api/caseload?limit={Horses}");
            return page!.Items.Count == Horses && page.Items.All(h => h.NextCheckDue is not null);
        });
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]* value=\"(?<token>[^\"]+)\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Token();
}

/// <summary>A row of the caseload.</summary>
public sealed record CaseloadRow(
    Guid HorseId,
    string Name,
    string State,
    string? Measure,
    DateOnly? NextCheckDue,
    IReadOnlyList<string> Reminders,
    Guid? OwnerId
);

public sealed record CaseloadPage(IReadOnlyList<CaseloadRow> Items);
