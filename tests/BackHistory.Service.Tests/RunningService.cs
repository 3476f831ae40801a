using System.Text;
using System.Text.Json;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

[assembly: AssemblyFixture(typeof(BackHistory.Service.Tests.RunningService))]

namespace BackHistory.Service.Tests;

/// <summary>The real host on a real PostgreSQL, one for all tests, with practices that know nothing of each other.</summary>
public sealed class RunningService : IAsyncLifetime
{
    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-service-");
    private ServedHost _host = null!;

    public const string Mine = "mine";

    public const string Theirs = "theirs";

    /// <summary>A practice whose key changes its role during a test.</summary>
    public const string Changing = "changing";

    /// <summary>A practice with one test's horses and no others, for what is said of a whole practice.</summary>
    public const string Counted = "counted";

    /// <summary>A practice that is told lengths in inches and heights in hands.</summary>
    public const string Imperial = "imperial";

    public const string Password = ServedHost.Password;

    public WebApplication App => _host.App;

    public Uri Address => _host.Address;

    public string MailFolder => Path.Combine(_state.FullName, "mail");

    public IServiceProvider Services => _host.Services;

    /// <summary>Plain SQL as the owner, for what no interface shows.</summary>
    public Npgsql.NpgsqlDataSource Database() => Services.GetRequiredKeyedService<Npgsql.NpgsqlDataSource>("owner");

    public async ValueTask InitializeAsync() =>
        _host = await ServedHost.Start(await TestServer.NewDatabase(), _state.FullName, Mine, Theirs, Changing, Counted, Imperial);

    public async ValueTask DisposeAsync()
    {
        await _host.DisposeAsync();
        _state.Delete(recursive: true);
        await TestServer.Stop();
    }

    /// <summary>One more practice, for a test that changes who works there.</summary>
    public Task Found(string practice) => _host.Found(practice);

    public HttpClient Anonymous() => _host.Anonymous();

    /// <summary>A client with the key of the practice's administrator.</summary>
    public HttpClient Client(string practice = Mine) => _host.Client(practice);

    public static string EmailOf(string practice) => ServedHost.EmailOf(practice);

    /// <summary>The key itself of the practice's administrator.</summary>
    public static string KeyOf(HttpClient client) => client.DefaultRequestHeaders.Authorization!.Parameter!;

    /// <summary>Everything that the service logged.</summary>
    public IReadOnlyCollection<string> Said => _host.Said.Lines;

    /// <summary>Somebody with an account who works in these practices, or in none.</summary>
    public async Task<Member> Member(string name, params (string Practice, PracticeRole Role)[] roles)
    {
        using var scope = Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var email = $"{name.ToLowerInvariant().Replace(' ', '.')}@members.invalid";
        var account = new Account
        {
            Id = History.DeterministicId.From("member", name),
            Email = email,
            EmailConfirmed = true,
        };
        foreach (var (practice, role) in roles)
            account.Memberships = account.Memberships.Add(new Membership(practice, await Person(practice, name, PersonRole.Fitter), role));
        // The second factor has tests of its own.
        account.Invented = true;
        Assert.True((await users.CreateAsync(account, Password)).Succeeded);
        return new Member(account.Id, email, account.Memberships.IsEmpty ? Guid.Empty : account.Memberships[0].PersonId);
    }

    /// <summary>A browser in which this member is signed in.</summary>
    public async Task<Browser> SignedIn(Member member)
    {
        var browser = Browser();
        await browser.SignIn(member.Email, Password);
        return browser;
    }

    public Browser Browser() => new(Address);

    /// <summary>A client with a fresh key of this member.</summary>
    public async Task<HttpClient> Client(
        Member member,
        string practice,
        PracticeRole most = PracticeRole.Administrator,
        DateTimeOffset? until = null
    )
    {
        var key = AccessKey.Make();
        await Services
            .GetRequiredService<AccessKeys>()
            .Save(
                new AccessKey(
                    AccessKey.HashOf(key),
                    "test",
                    member.AccountId,
                    practice,
                    DateTimeOffset.UnixEpoch,
                    until ?? DateTimeOffset.MaxValue,
                    Most: most
                ),
                CancellationToken.None
            );
        var client = Anonymous();
        client.DefaultRequestHeaders.Authorization = new System.Net.Http.Headers.AuthenticationHeaderValue("Bearer", key);
        return client;
    }

    /// <summary>A person of the practice, with an address where letters reach them.</summary>
    public Task<Guid> Person(string practice, string name, PersonRole role = PersonRole.Owner, string language = "en") =>
        _host.Person(practice, name, role, language);
}

/// <param name="PersonId">Who they are in the first of their practices.</param>
public sealed record Member(Guid AccountId, string Email, Guid PersonId);

/// <summary>Requests as a program sends them.</summary>
internal static class ClientExtensions
{
    private static int _keys;

    public static Task<HttpResponseMessage> Write(
        this HttpClient client,
        HttpMethod method,
        string path,
        object body,
        string? key = null,
        string? ifMatch = "*"
    ) => client.Write(method, path, JsonSerializer.Serialize(body, JsonSerializerOptions.Web), key, ifMatch);

    public static async Task<HttpResponseMessage> Write(
        this HttpClient client,
        HttpMethod method,
        string path,
        string body,
        string? key = null,
        string? ifMatch = "*",
        string type = "application/json"
    )
    {
        using var request = new HttpRequestMessage(method, path) { Content = new StringContent(body, Encoding.UTF8, type) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", key ?? $"test-{Interlocked.Increment(ref _keys)}");
        if (ifMatch is not null)
            request.Headers.TryAddWithoutValidation("If-Match", ifMatch);
        return await client.SendAsync(request);
    }

    public static async Task<JsonElement> Json(this HttpResponseMessage response) =>
        (await JsonDocument.ParseAsync(await response.Content.ReadAsStreamAsync())).RootElement;

    public static async Task<Guid> Horse(this HttpClient client, string name = "Test Horse", Guid? ownerId = null)
    {
        var response = await client.Write(
            HttpMethod.Post,
            "/api/horses",
            new
            {
                name,
                foaled = "2015-05-01",
                heightMm = 1600,
                ownerId,
            }
        );
        Assert.Equal(System.Net.HttpStatusCode.Created, response.StatusCode);
        return (await response.Json()).GetProperty("id").GetGuid();
    }

    /// <summary>A cross-section in the form of the measure verb.</summary>
    public static object Section(double slopeLeft, double slopeRight, string station = "behind-shoulder") =>
        new
        {
            kind = "cross-section",
            station,
            unit = "mm",
            yAxis = "up",
            noise = 0.5,
            points = Backs.Section(slopeLeft, slopeRight, station).Points.Select(p => new[] { p.X, p.Y }).ToArray(),
        };
}
