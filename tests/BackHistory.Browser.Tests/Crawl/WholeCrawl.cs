using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using MimeKit;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>Every role's walk over an invented practice that is there for nothing else.</summary>
internal sealed partial class WholeCrawl(IBrowser browser, string state, bool whole)
{
    private const int Horses = 14;

    /// <summary>The short crawl searches everywhere, and presses what adds and corrects people, yards and horses.</summary>
    private static bool InShort(string form) =>
        FormOrder.Late(form) <= 1
        || (
            FormOrder.Late(form) == 2
            && !form.Contains("/visits/", StringComparison.Ordinal)
            && new[] { "/people/", "/yards/", "/horses/{HorseId:guid}/" }.Any(p => form.Contains(p, StringComparison.Ordinal))
        );

    /// <summary>What each role saw, in the order of their walks.</summary>
    public IReadOnlyList<(string Who, Ledger Saw)> Ledgers => _ledgers;

    private readonly List<(string Who, Ledger Saw)> _ledgers = [];

    public Ledger Together => Ledger.Together(_ledgers.Select(l => l.Saw));

    public IReadOnlyList<string> Writing { get; private set; } = [];

    public IReadOnlyList<string> Pages { get; private set; } = [];

    /// <summary>Writing addresses of forms that nobody came to press.</summary>
    public IReadOnlyList<string> Unpressed => [.. Writing.Except(Together.Sent.Keys, StringComparer.Ordinal)];

    public async Task Run()
    {
        await Walks(PracticeRole.Administrator);
        if (whole)
        {
            foreach (var role in new[] { PracticeRole.Manager, PracticeRole.Fitter, PracticeRole.Apprentice, PracticeRole.ReadOnly })
                await Walks(role);
        }
    }

    private async Task Walks(PracticeRole role)
    {
        var folder = Directory.CreateDirectory(Path.Combine(state, role.ToString())).FullName;
        await using var host = await ServedHost.Invented(await TestServer.NewDatabase(), folder, Horses);
        var doors = new Doors(host.Services.GetServices<EndpointDataSource>());
        (Writing, Pages) = (doors.FormsSendTo, doors.Pages);
        using var program = host.Client(ServedHost.InventedTenant);
        var (horse, name) = await AHorse(program);
        var plan = new WalkPlan(host.Address, null, ServedHost.Password, Today, name, whole, _ => true);
        var first = role == PracticeRole.Administrator;
        if (first)
        {
            await Arrange(program, horse);
            await Outside(host, doors, folder, program, horse, plan);
        }

        if (first && whole)
        {
            // So that there are visits to be confirmed and sent back.
            await Walk(PracticeRole.Apprentice, follows: false, $"/horses/{horse}/visits/new");
        }

        // What was arranged stands with one horse, and a page is looked at once a kind.
        await Walk(role, follows: true, whole ? [$"/horses/{horse}", "/"] : ["/"]);
        if (first && whole)
            await Letters(host, doors, folder, plan);

        async Task Walk(PracticeRole who, bool follows, params string[] from)
        {
            var email = $"{who.ToString().ToLowerInvariant()}@members.invalid";
            await Account(host, email, who);
            var theirs = plan with
            {
                Email = email,
                Follows = follows,
                Presses = f => (whole || InShort(f)) && (follows || f.Contains("/visits/new", StringComparison.Ordinal)),
            };
            await using var window = await Window(host);
            // Two more browsers, so that there are sessions to end.
            await using var second = await Window(host);
            await using var third = await Window(host);
            foreach (var other in new[] { second, third })
                await Walker(who.ToString(), other, doors, theirs).SignsIn();
            await Walker(who.ToString(), window, doors, theirs).Walk(from);
        }
    }

    private Walker Walker(string who, IBrowserContext window, Doors doors, WalkPlan plan)
    {
        if (_ledgers.All(l => l.Who != who))
            _ledgers.Add((who, new Ledger()));
        return new(who, window, doors, _ledgers.Single(l => l.Who == who).Saw, plan);
    }

    /// <summary>Readers of letters and holders of links.</summary>
    private async Task Outside(ServedHost host, Doors doors, string folder, HttpClient program, Guid horse, WalkPlan plan)
    {
        var links = new List<string>();
        foreach (var reader in new[] { "owner", "veterinarian" })
        {
            var link = await Write(program, $"/api/horses/{horse}/sharing/links", new { role = reader, bindsToDevice = reader == "owner" });
            links.Add(new Uri(link.GetProperty("url").GetString()!).AbsolutePath);
        }

        var vet = DeterministicId.From("crawl", "vet");
        const string Address = "vet@clinic.invalid";
        await host
            .Services.GetRequiredService<PracticeQueries>()
            .Save(
                ServedHost.InventedTenant,
                [new Person(vet, "A Vet", Address, null, null, PersonRole.Veterinarian)],
                CancellationToken.None
            );
        await Write(program, $"/api/horses/{horse}/sharing/grants", new { personId = vet, role = "veterinarian" });
        var practices = host.Services.GetRequiredService<PracticeQueries>();
        var horses = host.Services.GetRequiredService<HorseQueries>();
        var owner = (await horses.Load(ServedHost.InventedTenant, horse, CancellationToken.None))!.OwnerId!.Value;
        var theirAddress = (await practices.Person(ServedHost.InventedTenant, owner, CancellationToken.None))!.Email!;
        await Write(program, $"/api/horses/{horse}/sharing/grants", new { personId = owner, role = "owner" });
        await using (var outside = await Window(host))
            await Walker("Holder of a link", outside, doors, plan).Walk([.. links]);
        foreach (var (name, address) in new[] { ("Veterinarian", Address), ("Owner", theirAddress) })
        {
            await RunningPractice.Until(() => Task.FromResult(Welcomes(address).Any()), $"the letter to {address}");
            await using (var outside = await Window(host))
                await Walker(name, outside, doors, plan).Walk([.. Welcomes(address)]);
            await using var window = await Window(host);
            var theirs = plan with { Email = address, Password = $"{plan.Password} still" };
            await Walker(name, window, doors, theirs).Walk("/shared-with-me");
        }

        IEnumerable<string> Welcomes(string to) =>
            Paths(Post(folder).Letters(to)).Where(p => p.StartsWith("/welcome/", StringComparison.Ordinal));
    }

    /// <summary>One that is reminded of, and the name of another.</summary>
    private static async Task<(Guid Id, string Name)> AHorse(HttpClient program)
    {
        JsonElement horses;
        do horses = (await program.GetFromJsonAsync<JsonElement>("/api/caseload?limit=40")).GetProperty("items");
        while (
            horses.GetArrayLength() < Horses
            || horses.EnumerateArray().Any(h => h.GetProperty("nextCheckDue").ValueKind == JsonValueKind.Null)
        );
        var one = horses
            .EnumerateArray()
            .First(h => h.GetProperty("reminders").GetArrayLength() > 0 && h.GetProperty("ownerId").ValueKind == JsonValueKind.String);
        // The crawl gives the first ones other names.
        return (one.GetProperty("horseId").GetGuid(), horses.EnumerateArray().Last().GetProperty("name").GetString()!);
    }

    /// <summary>What no page enters, or what is needed before anything was pressed.</summary>
    private static async Task Arrange(HttpClient program, Guid horse)
    {
        await Write(program, "/api/saddles", new { label = "Never used" });
        await Write(program, $"/api/horses/{horse}/care", new { kind = "growth", from = "2026-11-02" });
        using var file = new ByteArrayContent(AFile.Dot);
        file.Headers.ContentType = new("application/octet-stream");
        await Send(program, $"/api/horses/{horse}/files?kind=photograph", file);
    }

    private static Task<JsonElement> Write(HttpClient program, string path, object body) => Send(program, path, JsonContent.Create(body));

    private static async Task<JsonElement> Send(HttpClient program, string path, HttpContent content)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = content };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        var answer = await program.SendAsync(request);
        var said = await answer.Content.ReadAsStringAsync();
        return answer.IsSuccessStatusCode
            ? JsonDocument.Parse(said).RootElement
            : throw new InvalidOperationException($"{path}: {answer.StatusCode} {said}");
    }

    /// <summary>Readers of all letters that left, and of those that what they asked for came in.</summary>
    private async Task Letters(ServedHost host, Doors doors, string folder, WalkPlan plan)
    {
        for (var walks = 0; walks < 2; walks++)
        {
            await using var window = await Window(host);
            await Walker("Reader of letters", window, doors, plan).Walk([.. Paths(Post(folder).Letters()), "/sign-in", "/forgotten"]);
        }
    }

    private static IEnumerable<string> Paths(IEnumerable<MimeMessage> letters) =>
        letters
            .SelectMany(l => Links().Matches(l.TextBody ?? ""))
            .Select(m => new Uri(m.Value).AbsolutePath)
            .Distinct(StringComparer.Ordinal);

    private static Post Post(string folder) => new(Path.Combine(folder, "mail"));

    private static string Today => TestClock.Running.GetUtcNow().ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static async Task Account(ServedHost host, string email, PracticeRole role)
    {
        using var scope = host.Services.CreateScope();
        var person = DeterministicId.From("crawl", email);
        await host
            .Services.GetRequiredService<PracticeQueries>()
            .Save(
                ServedHost.InventedTenant,
                [new Person(person, $"{role} of the crawl", email, null, null, PersonRole.Fitter)],
                CancellationToken.None
            );
        var made = await scope
            .ServiceProvider.GetRequiredService<UserManager<Account>>()
            .CreateAsync(
                new Account
                {
                    Id = DeterministicId.From("member", email),
                    Email = email,
                    EmailConfirmed = true,
                    Memberships = [new Membership(ServedHost.InventedTenant, person, role)],
                    Working = ServedHost.InventedTenant,
                    // The second factor has tests of its own.
                    Invented = true,
                },
                ServedHost.Password
            );
        if (!made.Succeeded)
            throw new InvalidOperationException(string.Join(' ', made.Errors.Select(e => e.Description)));
    }

    private async Task<IBrowserContext> Window(ServedHost host)
    {
        var window = await browser.NewContextAsync(
            new BrowserNewContextOptions
            {
                BaseURL = host.Address.ToString(),
                ViewportSize = new ViewportSize { Width = 1440, Height = 900 },
                ReducedMotion = ReducedMotion.Reduce,
                ServiceWorkers = ServiceWorkerPolicy.Block,
                Locale = "en-GB",
                TimezoneId = "Europe/Berlin",
            }
        );
        window.SetDefaultTimeout(30_000);
        await window.AddInitScriptAsync(RunningPractice.TheServersDay);
        return window;
    }

    [GeneratedRegex(@"https?://\S+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Links();
}
