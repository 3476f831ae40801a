using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Accounts;
using BackHistory.History.Practices;
using BackHistory.History.Store;
using BackHistory.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

[assembly: AssemblyFixture(typeof(BackHistory.Service.Tests.RunningService))]

namespace BackHistory.Service.Tests;

/// <summary>The real host on a real PostgreSQL, one for all tests, with practices that know nothing of each other.</summary>
public sealed class RunningService : IAsyncLifetime
{
    private readonly Dictionary<string, string> _keys = new(StringComparer.Ordinal);
    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-service-");
    public const string Mine = "mine";

    public const string Theirs = "theirs";

    /// <summary>A practice whose key changes its role during a test.</summary>
    public const string Changing = "changing";

    public const string Password = "a long enough password";

    public WebApplication App { get; private set; } = null!;

    public Uri Address { get; private set; } = null!;

    public string MailFolder => Path.Combine(_state.FullName, "mail");

    public IServiceProvider Services => App.Services;

    /// <summary>Plain SQL, for what no interface shows.</summary>
    public Npgsql.NpgsqlDataSource Database() => Services.GetRequiredService<Npgsql.NpgsqlDataSource>();

    public async ValueTask InitializeAsync()
    {
        var database = await TestServer.NewDatabase();
        var mail = new MailSettings(null, 25, null, null, "practice@backhistory.invalid", "backhistory.invalid", MailFolder);
        var settings = new Settings("http://127.0.0.1:0", _state.FullName, database, mail, Demo: false, PublicUrl: null);
        App = Host.Build(settings, database);
        await MartenSetup.ApplySchema(App.Services);
        foreach (var practice in new[] { Mine, Theirs, Changing }) await Found(practice);
        await App.StartAsync();
        Address = new Uri(App.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
        using var client = Anonymous();
        while (!(await client.GetAsync("/health/ready")).IsSuccessStatusCode) await Task.Delay(50);
    }

    public async ValueTask DisposeAsync()
    {
        await App.StopAsync();
        await App.DisposeAsync();
        _state.Delete(recursive: true);
        await TestServer.Stop();
    }

    public HttpClient Anonymous() => new(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = Address };

    /// <summary>A client with the key of the practice's administrator.</summary>
    public HttpClient Client(string practice = Mine)
    {
        var client = Anonymous();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", _keys[practice]);
        return client;
    }

    public static string EmailOf(string practice) => $"administrator@{practice}.invalid";

    /// <summary>A person of the practice, with an address where letters reach them.</summary>
    public async Task<Guid> Person(string practice, string name, PersonRole role = PersonRole.Owner, string language = "en")
    {
        var id = DeterministicId.Of("person", practice, name);
        await Services.GetRequiredService<PracticeQueries>().Save(practice, [new Person(id, name, $"{id:N}@people.invalid", null, null, role, language)], CancellationToken.None);
        return id;
    }

    private async Task Found(string practice)
    {
        var now = DateTimeOffset.UnixEpoch.AddYears(50);
        var id = DeterministicId.Of("practice", practice);
        await Services.GetRequiredService<Commands>().Execute<History.Practices.Practice>(
            new CommandContext(practice, Guid.Empty, "found", "", 0, now), id, p => PracticeDecider.Decide(p, new FoundPractice(id, practice, "Etc/UTC", false, Guid.Empty), now), CancellationToken.None);
        await Services.GetRequiredService<KnownPractices>().Add(new KnownPractice(practice, practice, "Etc/UTC"), CancellationToken.None);
        using var scope = Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var person = await Person(practice, "Administrator", PersonRole.Manager);
        var account = new Account { Id = DeterministicId.Of("account", practice), Email = EmailOf(practice), EmailConfirmed = true, Memberships = [new Membership(practice, person, PracticeRole.Administrator)] };
        Assert.True((await users.CreateAsync(account, Password)).Succeeded);
        var key = AccessKey.Make();
        await Services.GetRequiredService<AccountDocuments>().Save(
            new AccessKey(AccessKey.HashOf(key), "test", account.Id, practice, now, DateTimeOffset.MaxValue), CancellationToken.None);
        _keys[practice] = key;
    }
}

/// <summary>Requests as a program sends them.</summary>
internal static class ClientExtensions
{
    private static int _keys;

    public static Task<HttpResponseMessage> Write(this HttpClient client, HttpMethod method, string path, object body, string? key = null, string? ifMatch = "*") =>
        client.Write(method, path, JsonSerializer.Serialize(body, JsonSerializerOptions.Web), key, ifMatch);

    public static async Task<HttpResponseMessage> Write(this HttpClient client, HttpMethod method, string path, string body, string? key = null, string? ifMatch = "*", string type = "application/json")
    {
        using var request = new HttpRequestMessage(method, path) { Content = new StringContent(body, Encoding.UTF8, type) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", key ?? $"test-{Interlocked.Increment(ref _keys)}");
        if (ifMatch is not null) request.Headers.TryAddWithoutValidation("If-Match", ifMatch);
        return await client.SendAsync(request);
    }

    public static async Task<JsonElement> Json(this HttpResponseMessage response) =>
        (await JsonDocument.ParseAsync(await response.Content.ReadAsStreamAsync())).RootElement;

    public static async Task<Guid> Horse(this HttpClient client, string name = "Test Horse", Guid? ownerId = null)
    {
        var response = await client.Write(HttpMethod.Post, "/api/horses", new { name, foaled = "2015-05-01", heightMm = 1600, ownerId });
        Assert.Equal(System.Net.HttpStatusCode.Created, response.StatusCode);
        return (await response.Json()).GetProperty("id").GetGuid();
    }

    /// <summary>A cross-section in the form of the measure verb.</summary>
    public static object Section(double slopeLeft, double slopeRight, string station = "behind-shoulder") => new
    {
        kind = "cross-section",
        station,
        unit = "mm",
        yAxis = "up",
        noise = 0.5,
        points = Backs.Section(slopeLeft, slopeRight, station).Points.Select(p => new[] { p.X, p.Y }).ToArray(),
    };
}
