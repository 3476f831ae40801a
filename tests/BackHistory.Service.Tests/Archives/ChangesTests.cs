using System.Collections.Concurrent;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using BackHistory.Service.Archives;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Archives;

/// <summary>Other software follows the history by its own cursor, or is told.</summary>
public sealed class ChangesTests(RunningService service, ArchiveTests.TwoPractices quiet) : IClassFixture<ArchiveTests.TwoPractices>
{
    [Fact]
    public async Task A_reader_who_comes_back_with_its_cursor_gets_every_event_once_and_in_order()
    {
        using var client = service.Client();
        var start = await End(client, null);
        var horses = new List<Guid>();
        for (var i = 0; i < 7; i++)
            horses.Add(await client.Horse($"Followed {i}"));
        var seen = new List<Guid>();
        var cursor = start;
        for (var i = 0; i < 400 && seen.Count < 7; i++)
        {
            var answer = await client.GetFromJson($"/api/changes?limit=2&type=horse_registered&after={cursor}");
            Assert.All(
                answer.GetProperty("events").EnumerateArray(),
                e => Assert.Equal("horse_registered", e.GetProperty("type").GetString())
            );
            seen.AddRange(
                answer.GetProperty("events").EnumerateArray().Select(e => e.GetProperty("stream").GetGuid()).Where(horses.Contains)
            );
            cursor = answer.GetProperty("next").GetString()!;
            if (!answer.GetProperty("more").GetBoolean())
                await Task.Delay(50);
        }

        Assert.Equal(horses, seen);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await client.GetAsync("/api/changes?type=never_heard_of")).StatusCode);
        using var stranger = service.Client(RunningService.Theirs);
        var theirs = await stranger.GetFromJson($"/api/changes?limit=1000&after={start}");
        Assert.DoesNotContain(theirs.GetProperty("events").EnumerateArray(), e => horses.Contains(e.GetProperty("stream").GetGuid()));
    }

    [Fact]
    public async Task A_cursor_of_another_store_is_refused_with_what_to_do_and_one_of_an_earlier_release_goes_on()
    {
        using var client = service.Client();
        await client.Horse("Followed From Elsewhere");
        // The same position, as another store gave it out: of a backup that was put back, say.
        var cursor = await End(client, null);
        var here = Encoding.UTF8.GetString(System.Buffers.Text.Base64Url.DecodeFromChars(cursor));
        var store = await service.Services.GetRequiredService<StoreIdentity>().Current(CancellationToken.None);
        Assert.Contains(store, here, StringComparison.Ordinal);
        string Cursor(string text) => System.Buffers.Text.Base64Url.EncodeToString(Encoding.UTF8.GetBytes(text));

        var other = await client.GetAsync($"/api/changes?after={Cursor(here.Replace(store, "0123456789ab", StringComparison.Ordinal))}");

        Assert.Equal(HttpStatusCode.Conflict, other.StatusCode);
        var said = await other.Json();
        Assert.Contains("other-store", said.GetRawText(), StringComparison.Ordinal);
        Assert.Contains("Follow again without 'after'", said.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/changes?after={Cursor("3")}")).StatusCode);
    }

    [Theory]
    [InlineData(long.MaxValue)]
    [InlineData(1_000_000_000L)]
    [InlineData(-1L)]
    [InlineData(long.MinValue)]
    public async Task A_cursor_that_this_store_never_gave_out_is_refused_as_a_crafted_one_is(long position)
    {
        using var client = service.Client();
        var store = await service.Services.GetRequiredService<StoreIdentity>().Current(CancellationToken.None);
        foreach (var crafted in new[] { Web.Paging.Write((store, position)), Web.Paging.Write(position) })
        {
            var answer = await client.GetAsync($"/api/changes?after={crafted}");
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            Assert.Equal("bad-cursor", (await answer.Json()).GetProperty("code").GetString());
        }

        // What is given out is taken, however often, also at the end.
        var end = await End(client, null);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/changes?after={await End(client, end)}")).StatusCode);
    }

    [Fact]
    public async Task What_is_sent_is_signed_is_sent_again_after_a_failure_and_stops_when_it_was_taken()
    {
        await using var sink = await Sink.Start();
        using var client = quiet.Host.Client(Told);
        var made = await (
            await client.Write(HttpMethod.Post, "/api/webhooks", new { url = sink.Url, types = new[] { "horse_registered" } })
        ).Json();
        var (id, secret) = (made.GetProperty("id").GetGuid(), made.GetProperty("secret").GetString()!);
        var horse = await client.Horse("Told Of");
        var clock = new Testing.FixedTime(DateTimeOffset.UnixEpoch.AddYears(56));
        var job = Job(clock);

        sink.Answer = 500;
        await Until(async () =>
        {
            await job.Run(Told, CancellationToken.None);
            return !sink.Received.IsEmpty;
        });
        Assert.Equal(1, (await Hook(client, id)).GetProperty("failures").GetInt32());
        var before = sink.Received.Count;
        await job.Run(Told, CancellationToken.None);
        Assert.Equal(before, sink.Received.Count);

        sink.Answer = 204;
        clock.Now = clock.Now.AddMinutes(3);
        await job.Run(Told, CancellationToken.None);
        var (first, last) = (sink.Received.First(), sink.Received.Last());
        Assert.Equal(first.Id, last.Id);
        Assert.Contains(horse.ToString(), last.Body, StringComparison.Ordinal);
        // The Standard Webhooks specification: HMAC-SHA256 over id.timestamp.body, base64.
        var expected = Convert.ToBase64String(
            HMACSHA256.HashData(
                Convert.FromBase64String(secret["whsec_".Length..]),
                Encoding.UTF8.GetBytes($"{last.Id}.{last.At}.{last.Body}")
            )
        );
        Assert.Equal($"v1,{expected}", last.Signature);
        var after = sink.Received.Count;
        await job.Run(Told, CancellationToken.None);
        Assert.Equal(after, sink.Received.Count);
        Assert.Equal(HttpStatusCode.NoContent, (await client.DeleteAsync($"/api/webhooks/{id}")).StatusCode);
    }

    [Theory]
    [InlineData("127.0.0.1", true)]
    [InlineData("10.1.2.3", true)]
    [InlineData("169.254.169.254", true)]
    [InlineData("::1", true)]
    [InlineData("fd00::1", true)]
    [InlineData("192.0.2.1", false)]
    [InlineData("2001:db8::1", false)]
    public void An_address_inside_the_own_network_is_known_as_one(string address, bool inside) =>
        Assert.Equal(inside, WebhookClient.IsInside(IPAddress.Parse(address)));

    [Fact]
    public async Task A_webhook_does_not_reach_into_the_own_network()
    {
        await using var sink = await Sink.Start();
        using var client = service.Services.GetRequiredService<IHttpClientFactory>().CreateClient(WebhookJob.Client);
        var refused = await Assert.ThrowsAsync<HttpRequestException>(() => client.PostAsync(sink.Url, new StringContent("hello")));
        Assert.IsType<ForbiddenAddressException>(refused.InnerException);
        Assert.Empty(sink.Received);
    }

    private const string Told = "told";

    private WebhookJob Job(TimeProvider time) =>
        new(
            quiet.Host.Services.GetRequiredService<KnownPractices>(),
            quiet.Host.Services.GetRequiredService<WebhookStore>(),
            quiet.Host.Services.GetRequiredService<Changes>(),
            quiet.Host.Services.GetRequiredService<StoreIdentity>(),
            new Plain(),
            quiet.Host.Services.GetRequiredService<AdvisoryLocks>(),
            time
        );

    private static async Task<JsonElement> Hook(HttpClient client, Guid id) =>
        (await client.GetFromJson("/api/webhooks")).EnumerateArray().Single(w => w.GetProperty("id").GetGuid() == id);

    private static async Task<string> End(HttpClient client, string? cursor)
    {
        while (true)
        {
            var answer = await client.GetFromJson($"/api/changes?limit=1000{(cursor is null ? "" : $"&after={cursor}")}");
            cursor = answer.GetProperty("next").GetString()!;
            if (!answer.GetProperty("more").GetBoolean())
                return cursor;
        }
    }

    private static async Task Until(Func<Task<bool>> good)
    {
        for (var i = 0; !await good(); i++)
        {
            Assert.True(i < 200, "nothing was sent");
            await Task.Delay(50);
        }
    }

    private sealed class Plain : IHttpClientFactory
    {
        public HttpClient CreateClient(string name) => new();
    }

    /// <summary>Somebody else's software that is told.</summary>
    private sealed class Sink(WebApplication app) : IAsyncDisposable
    {
        public ConcurrentQueue<(string Id, string At, string Signature, string Body)> Received { get; } = new();

        public int Answer { get; set; } = 204;

        public string Url => $"{app.Urls.First()}/hook";

        public static async Task<Sink> Start()
        {
            var builder = WebApplication.CreateSlimBuilder();
            var app = builder.Build();
            app.Urls.Add("http://127.0.0.1:0");
            var sink = new Sink(app);
            app.MapPost(
                "/hook",
                async (HttpContext http) =>
                {
                    using var reader = new StreamReader(http.Request.Body);
                    sink.Received.Enqueue(
                        (
                            http.Request.Headers["webhook-id"]!,
                            http.Request.Headers["webhook-timestamp"]!,
                            http.Request.Headers["webhook-signature"]!,
                            await reader.ReadToEndAsync()
                        )
                    );
                    http.Response.StatusCode = sink.Answer;
                }
            );
            await app.StartAsync();
            return sink;
        }

        public ValueTask DisposeAsync() => app.DisposeAsync();
    }
}
