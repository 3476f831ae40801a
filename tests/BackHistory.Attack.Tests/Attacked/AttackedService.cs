using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using BackHistory.Attack.Tests.Requests;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Tests;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace BackHistory.Attack.Tests.Attacked;

/// <summary>The started service with two practices that have everything, and everybody who may try.</summary>
internal sealed class AttackedService : IAsyncDisposable
{
    private readonly DirectoryInfo _state;
    private readonly ServedHost _host;
    private readonly Dictionary<Side, Belongings> _belongings = [];
    private readonly Dictionary<Side, Attacker> _managers = [];
    private readonly Dictionary<Side, Attacker> _sessions = [];
    private readonly Dictionary<string, Operation> _operations = new(StringComparer.Ordinal);
    private readonly Dictionary<Side, string> _erased = [];
    private int _reminders;

    private AttackedService(DirectoryInfo state, ServedHost host, Ledger ledger) => (_state, _host, Ledger) = (state, host, ledger);

    public Ledger Ledger { get; private set; }

    /// <summary>The interface's description of itself.</summary>
    public JsonNode Document { get; private set; } = null!;

    public IReadOnlyCollection<Operation> Operations => _operations.Values;

    public IServiceProvider Services => _host.Services;

    public Uri Address => _host.Address;

    public static async Task<AttackedService> Start(string database, int seed)
    {
        var state = Directory.CreateTempSubdirectory("backhistory-attack-");
        var host = await ServedHost.Start(
            database,
            state.FullName,
            // An hour of attacks fills a log; what is looked for is what went wrong.
            builder => builder.Logging.AddFilter<SaidInTheLog>(null, LogLevel.Error),
            Side.North.Practice,
            Side.South.Practice
        );
        var service = new AttackedService(state, host, new Ledger(seed));
        foreach (var side in new[] { Side.North, Side.South })
        {
            var manager = service._managers[side] = new Attacker(service, "administrator", host.Client(side.Practice), side);
            service._belongings[side] = new Belongings(service, side, manager);
            service._sessions[side] = await service.SignIn(side);
        }

        var document = await service._managers[Side.North].Look("/api/openapi/v1.json");
        service.Document = document.Json()!;
        foreach (var operation in Requests.Operation.All(service.Document))
            service._operations[operation.Name] = operation;
        return service;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var attacker in _managers.Values.Concat(_sessions.Values))
            attacker.Dispose();
        await _host.DisposeAsync();
        _state.Delete(recursive: true);
    }

    /// <summary>Counts from here on for another attack.</summary>
    public Ledger Begin(int seed) => Ledger = new Ledger(seed);

    public Operation Operation(string name) => _operations[name];

    /// <summary>The parameters of an operation that are one of some words.</summary>
    public IReadOnlyList<string> Choices(Operation operation) =>
        [
            .. (Document["paths"]![operation.Path] ?? Document["paths"]![$"{operation.Path}/"])![
                operation.Method.Method.ToLowerInvariant()
            ]!
                ["parameters"]
                ?.AsArray()
                .Where(p => (string?)p!["in"] == "query" && IsChoice(p["schema"]))
                .Select(p => (string)p!["name"]!)
                ?? [],
        ];

    private bool IsChoice(JsonNode? schema) =>
        schema?["enum"] is not null
        || (schema?["oneOf"] as JsonArray)?.Any(IsChoice) == true
        || ((string?)schema?["$ref"] is { } name && IsChoice(Document["components"]!["schemas"]![name.Split('/')[^1]]));

    public Belongings Of(Side side) => _belongings[side];

    /// <summary>A program with the administrator's key.</summary>
    public Attacker Manager(Side side) => _managers[side];

    /// <summary>The administrator's browser.</summary>
    public Attacker Session(Side side) => _sessions[side];

    /// <summary>Who sends an honest request to this operation: a key is made in a browser only.</summary>
    public Attacker For(Operation operation, Side side) =>
        operation.Path.StartsWith("/api/me/", StringComparison.Ordinal) ? Session(side) : Manager(side);

    /// <summary>An id of the other practice, of a horse, a person or a visit.</summary>
    public async Task<string> Foreign(Side side) =>
        await Of(side.Other).Id(new[] { "horse", "person", "visit", "saddle" }[Ledger.Chance.Next(4)]);

    /// <summary>The text with an id of the other practice wherever one is asked for.</summary>
    public async Task<string> WithForeign(Side side, string text) =>
        text.Contains("@foreign", StringComparison.Ordinal)
            ? text.Replace("@foreign", await Foreign(side), StringComparison.Ordinal)
            : text;

    public async Task<Attacker> SignIn(Side side)
    {
        var name = $"{side.Practice} signed in";
        await KeyOf(name, side, PracticeRole.Administrator);
        var browser = new Browser(Address);
        await browser.SignIn(EmailOf(name), ServedHost.Password);
        return new Attacker(this, "signed-in administrator", browser.Client, side);
    }

    /// <summary>Everybody else: the other roles, somebody who left, nobody, and a key that was never made.</summary>
    public async Task<IReadOnlyList<Attacker>> Others(Side side)
    {
        var all = new List<Attacker>
        {
            new(this, "nobody", _host.Anonymous(), null),
            WithKey("a key that nobody has", AccessKey.Make(), null),
        };
        foreach (var role in Enum.GetValues<PracticeRole>().Where(r => r != PracticeRole.Administrator))
            all.Add(WithKey(role.ToString(), await KeyOf($"{side.Practice} {role}", side, role), side));
        var left = $"{side.Practice} left";
        all.Add(WithKey("somebody who left", await KeyOf(left, side, PracticeRole.Manager), null));
        await Services.GetRequiredService<AccountDocuments>().Change(AccountOf(left), a => a.Memberships = [], CancellationToken.None);
        return all;
    }

    public Attacker Anonymous(string kind) => new(this, kind, _host.Anonymous(), null);

    /// <summary>Somebody who holds a link into this practice, and nothing else.</summary>
    public Attacker Holder(string kind, Side side) => new(this, kind, new Browser(Address).Client, side);

    public Task<Guid> Person(Side side, string kind) =>
        _host.Person(
            side.Practice,
            $"{side.Canary} {kind}",
            kind switch
            {
                "fitter" => PersonRole.Fitter,
                "vet" => PersonRole.Veterinarian,
                _ => PersonRole.Rider,
            }
        );

    /// <summary>Somebody whom this practice knew until they were erased.</summary>
    public async Task<string> Erased(Side side)
    {
        if (_erased.TryGetValue(side, out var id))
            return id;
        var person = (await Person(side, "erased")).ToString();
        var answer = await Manager(side).Honest(HttpMethod.Post, $"/api/people/{person}/erase", Attacker.Json("{}"));
        if (!answer.Good)
            throw new InvalidOperationException($"Nobody can be erased: {answer.Status} {answer.Text}");
        return _erased[side] = person;
    }

    /// <summary>A reminder about this horse, as an evaluation raises one.</summary>
    public async Task<Guid> Raise(Side side, Guid horse, ReminderRule rule)
    {
        var now = TestClock.Running.GetUtcNow();
        var day = ZoneClock.Day(now, TimeZoneInfo.Utc);
        var id = DeterministicId.From("attacked reminder", side.Practice, $"{++_reminders}");
        var evidence = Evidence.WithoutMeasure(day, 1, day.AddYears(20), $"{side.Canary} is due.");
        var outcome = await Services
            .GetRequiredService<Commands>()
            .Execute<Reminder>(
                new CommandContext(side.Practice, Guid.Empty, $"raise:{id}", "", null, now),
                id,
                r => ReminderDecider.Decide(r, new RaiseReminder(id, horse, null, rule, evidence, [], Guid.Empty), now),
                CancellationToken.None
            );
        return outcome.Refused is null ? id : throw new InvalidOperationException(outcome.Refused.Message);
    }

    /// <summary>The last error that the service wrote into its log.</summary>
    public string LastError()
    {
        var line = _host.Said.Lines.LastOrDefault(l => l.StartsWith("Error", StringComparison.Ordinal)) ?? "(nothing in the log)";
        var ours = line.Split('\n').Where((l, i) => i < 3 || l.Contains("BackHistory.", StringComparison.Ordinal)).Take(12);
        return string.Join('\n', ours.Select(l => l.Length > 300 ? l[..300] : l));
    }

    /// <summary>Every read model has seen every event, within half a minute.</summary>
    public async Task<bool> Followed()
    {
        var progress = Services.GetRequiredService<Progress>();
        var last = await progress.Last(CancellationToken.None);
        return await progress.Wait(last, TimeSpan.FromMinutes(5), TimeProvider.System, CancellationToken.None);
    }

    private async Task<string> KeyOf(string name, Side side, PracticeRole role)
    {
        using var scope = Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var person = await _host.Person(side.Practice, $"{side.Canary} {role} {name}", PersonRole.Fitter);
        var account = new Account
        {
            Id = AccountOf(name),
            Email = EmailOf(name),
            EmailConfirmed = true,
            // Signing in with two factors has tests of its own.
            Invented = true,
            Memberships = [new Membership(side.Practice, person, role)],
        };
        if (await users.FindByIdAsync(account.Id.ToString()) is null)
            await users.CreateAsync(account, ServedHost.Password);
        var key = AccessKey.Make();
        await Services
            .GetRequiredService<AccessKeys>()
            .Save(
                new AccessKey(
                    AccessKey.HashOf(key),
                    "attack",
                    account.Id,
                    side.Practice,
                    DateTimeOffset.UnixEpoch,
                    DateTimeOffset.MaxValue
                ),
                CancellationToken.None
            );
        return key;
    }

    private static string EmailOf(string name) => $"{name.ToLowerInvariant().Replace(' ', '.')}@members.invalid";

    private static Guid AccountOf(string name) => DeterministicId.From("attacker", name);

    private Attacker WithKey(string kind, string key, Side? side)
    {
        var client = _host.Anonymous();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return new Attacker(this, kind, client, side);
    }
}
