using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using BackHistory.Store;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace BackHistory.Service.Tests.Archives;

/// <summary>A service of its own: a practice in which a little of everything happened, its archive, and empty practices to take it
/// into.</summary>
public sealed class ArchiveOfEverything : IAsyncLifetime
{
    private const string From = "from";

    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-broken-");
    private int _founded;
    private string? _forRefused;
    private Guid _horse;

    public ServedHost Host { get; private set; } = null!;

    internal ArchiveParts Parts { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        Host = await ServedHost.Start(await TestServer.NewDatabase(), _state.FullName, From);
        using var client = Host.Client(From);
        _horse = await Live(client);
        await Follows("while it lives");
        Parts = new ArchiveParts(await client.GetByteArrayAsync("/api/archive"));
    }

    public async ValueTask DisposeAsync()
    {
        await Host.DisposeAsync();
        _state.Delete(recursive: true);
    }

    /// <summary>A practice in which nothing happened yet.</summary>
    public async Task<string> Empty()
    {
        var name = $"to{++_founded}";
        await Host.Found(name, lettersLeave: false);
        await Follows("founded");
        return name;
    }

    /// <summary>The one to which everything is sent that must not get in.</summary>
    public async Task<string> ForRefused() => _forRefused ??= await Empty();

    /// <summary>What should not have: the next is sent elsewhere.</summary>
    public void GotIn() => _forRefused = null;

    public async Task<byte[]> OfOneHorse()
    {
        using var client = Host.Client(From);
        return await client.GetByteArrayAsync($"/api/horses/{_horse}/archive");
    }

    public async Task<HttpResponseMessage> Send(string practice, byte[] zip)
    {
        using var client = Host.Client(practice);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/archive") { Content = new ByteArrayContent(zip) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        return await client.SendAsync(request);
    }

    /// <summary>Every read model has seen every event, and the service says that it is ready.</summary>
    public async Task Follows(string where)
    {
        var progress = Host.Services.GetRequiredService<Progress>();
        var last = await progress.Last(default);
        Assert.True(await progress.Wait(last, TimeSpan.FromMinutes(2), TimeProvider.System, default), $"read models stand still: {where}");
        using var client = Host.Anonymous();
        using var ready = await client.GetAsync("/health/ready");
        Assert.True(ready.StatusCode == HttpStatusCode.OK, $"{await ready.Content.ReadAsStringAsync()}: {where}");
    }

    public async Task<long> EventsOf(string practice) =>
        long.Parse(await Ask("select count(*)::text from history.mt_events t", practice), CultureInfo.InvariantCulture);

    /// <summary>Everything that lies there of a practice, table by table, but for who signed in when.</summary>
    public async Task<string> KeptBy(string practice)
    {
        var tables = await Ask(
            """
            select string_agg(table_name::text, ' ' order by table_name) from information_schema.columns
            where table_schema = 'history' and column_name = 'tenant_id' and $1 <> ''
            """,
            practice,
            ofPractice: false
        );
        const string What = "select count(*) || coalesce(md5(string_agg(t::text, '|' order by t::text)), '') from history.";
        var kept = new List<string>();
        foreach (var table in tables.Split(' '))
            kept.Add($"{table} {await Ask($"{What}{table} t", practice)}");
        return string.Join('\n', kept);
    }

    private async Task<string> Ask(string sql, string practice, bool ofPractice = true)
    {
        await using var command = Host
            .Services.GetRequiredKeyedService<NpgsqlDataSource>("owner")
            .CreateCommand(ofPractice ? $"{sql} where tenant_id = $1" : sql);
        command.Parameters.Add(new NpgsqlParameter { Value = practice });
        return (string)(await command.ExecuteScalarAsync())!;
    }

    private static async Task<Guid> Live(HttpClient client)
    {
        Guid[] people =
        [
            await Id(
                client,
                "/api/people",
                new
                {
                    name = "Olga Example",
                    role = "owner",
                    email = "olga@example.invalid",
                }
            ),
            await Id(
                client,
                "/api/people",
                new
                {
                    name = "Vera Example",
                    role = "veterinarian",
                    phone = "0123",
                }
            ),
        ];
        var yard = await Id(client, "/api/yards", new { name = "Lower Barn", town = "Ford" });
        var (horse, other, twice) = (
            await Id(
                client,
                "/api/horses",
                new
                {
                    name = "Bramble",
                    ownerId = people[0],
                    yardId = yard,
                }
            ),
            await client.Horse("Thistle", people[0]),
            await client.Horse("Bramble Again", people[0])
        );
        var visit = (
            await Ok(
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits",
                    new
                    {
                        takenAt = "2026-05-01T10:00:00+02:00",
                        method = "flexible-curve",
                        entries = new[] { ClientExtensions.Section(45, 44) },
                    }
                )
            )
        ).GetProperty("visitId").GetGuid();
        await Weigh(client, horse, "2026-05-02T10:00:00Z");
        await Weigh(client, other, "2026-05-02T10:00:00Z");
        await Ok(
            await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/care",
                new
                {
                    kind = "illness",
                    from = "2026-04-01",
                    words = "Coughed.",
                }
            )
        );
        var saddle = await Id(client, "/api/saddles", new { label = "17" });
        foreach (var (on, seen) in new[] { (other, (Guid?)null), (horse, visit) })
            await Ok(
                await client.Write(
                    HttpMethod.Post,
                    $"/api/saddles/{saddle}/work",
                    new
                    {
                        kind = "set",
                        horseId = on,
                        visitId = seen,
                        takenAt = "2026-05-03T11:00:00Z",
                        fresh = true,
                        onBoth = true,
                        done = new[]
                        {
                            new
                            {
                                part = "tree",
                                from = "3",
                                to = "4",
                            },
                        },
                    }
                )
            );
        using var photo = new HttpRequestMessage(HttpMethod.Post, $"/api/horses/{horse}/files?kind=photograph")
        {
            Content = new ByteArrayContent(Picture.Jpeg(400, 300, 1, 2, 3)),
        };
        photo.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        photo.Headers.TryAddWithoutValidation("Idempotency-Key", "photo");
        photo.Headers.TryAddWithoutValidation("If-Match", "*");
        Assert.True((await client.SendAsync(photo)).IsSuccessStatusCode);
        await Ok(await client.Write(HttpMethod.Post, $"/api/horses/{twice}/merge", new { intoId = horse, reason = "One horse." }));
        await Ok(await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "owner" }));
        Assert.True((await client.GetAsync($"/api/horses/{horse}")).IsSuccessStatusCode);
        return horse;
    }

    private static async Task Weigh(HttpClient client, Guid horse, string at) =>
        await Ok(
            await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = at,
                    method = "flexible-curve",
                    entries = new[]
                    {
                        new
                        {
                            kind = "weight",
                            value = 520,
                            unit = "kg",
                        },
                    },
                }
            )
        );

    private static async Task<Guid> Id(HttpClient client, string path, object body) =>
        (await Ok(await client.Write(HttpMethod.Post, path, body))).GetProperty("id").GetGuid();

    private static async Task<System.Text.Json.JsonElement> Ok(HttpResponseMessage answer)
    {
        var body = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, $"{answer.StatusCode} {body}");
        return body.Length == 0 ? default : System.Text.Json.JsonDocument.Parse(body).RootElement;
    }
}
