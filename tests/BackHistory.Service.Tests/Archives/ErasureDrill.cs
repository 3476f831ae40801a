using System.Net;
using System.Net.Http.Headers;
using System.Text;
using BackHistory.Service.Tests.Reminders;
using BackHistory.Store.Erasing;

namespace BackHistory.Service.Tests.Archives;

/// <summary>A person asks to be erased: the drill searches every table and every file for the name.</summary>
public sealed class ErasureDrill(RunningService service)
{
    [Fact]
    public async Task After_an_erasure_the_name_stands_in_no_table_and_in_no_file_and_the_horse_is_still_there()
    {
        using var client = service.Client(RunningService.Theirs);
        var mark = Guid.NewGuid().ToString("N")[..8];
        var (name, email) = ($"Wilhelmina Erasable{mark}", $"wilhelmina.{mark}@example.invalid");
        var person = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    "/api/people",
                    new
                    {
                        name,
                        email,
                        phone = $"+49 30 {mark}",
                        address = $"{mark} Lane",
                        role = "owner",
                    }
                )
            ).Json()
        ).GetProperty("id").GetGuid();
        var horse = await client.Horse("Stays When The Owner Goes", person);
        await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/care",
            new
            {
                kind = "veterinary",
                from = "2026-04-01",
                words = $"{name} saw it limp.",
                about = new[] { person },
            }
        );
        await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/care",
            new
            {
                kind = "other",
                from = "2026-04-02",
                words = $"Told {name.ToUpperInvariant()} to rest it.",
                about = new[] { person },
            }
        );
        var visit = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-05-01T10:00:00Z",
                method = "flexible-curve",
                entries = new[] { ClientExtensions.Section(45, 44) },
            }
        );
        Assert.True(visit.IsSuccessStatusCode);
        var photograph = await Attach(client, $"/api/horses/{horse}/files?kind=document&shows={person}", $"A letter of {name}.");
        await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants", new { personId = person, role = "owner" });
        await Given.Wait(() =>
            Task.FromResult(
                Directory.Exists(service.MailFolder)
                    ? Directory
                        .GetFiles(service.MailFolder)
                        .FirstOrDefault(f => File.ReadAllText(f).Contains(email, StringComparison.Ordinal))
                    : null
            )
        );
        Assert.NotEmpty(await Found(name));

        var answer = await client.Write(HttpMethod.Post, $"/api/people/{person}/erase", new { });
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        var erased = await answer.Json();
        Assert.Equal(
            (2, 1, 1),
            (
                erased.GetProperty("notes").GetInt32(),
                erased.GetProperty("attachments").GetInt32(),
                erased.GetProperty("letterFiles").GetInt32()
            )
        );
        Assert.Equal(0, erased.GetProperty("stillFound").GetArrayLength());

        foreach (var word in new[] { name, email, $"+49 30 {mark}", $"{mark} Lane" })
            Assert.Empty(await Found(word));
        foreach (var file in Directory.EnumerateFiles(Path.GetDirectoryName(service.MailFolder)!, "*", SearchOption.AllDirectories))
            Assert.DoesNotContain(mark, await File.ReadAllTextAsync(file), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync(photograph)).StatusCode);
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("visits").GetInt32());
        // Asked for again it is done already; somebody who never was is not found.
        Assert.True((await client.Write(HttpMethod.Post, $"/api/people/{person}/erase", new { })).IsSuccessStatusCode);
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await client.Write(HttpMethod.Post, $"/api/people/{Guid.NewGuid()}/erase", new { })).StatusCode
        );
    }

    [Fact]
    public async Task A_name_that_others_wrote_into_a_reason_is_told_of_and_not_passed_over()
    {
        using var client = service.Client(RunningService.Theirs);
        var name = $"Ottokar Reason{Guid.NewGuid().ToString("N")[..8]}";
        var person = (await (await client.Write(HttpMethod.Post, "/api/people", new { name, role = "rider" })).Json())
            .GetProperty("id")
            .GetGuid();
        var horse = await client.Horse("Corrected By Word");
        await client.Write(
            HttpMethod.Put,
            $"/api/horses/{horse}",
            new
            {
                name = "Corrected By Word",
                foaled = "2014-05-01",
                reason = $"{name} knew the year.",
            }
        );
        var erased = await (await client.Write(HttpMethod.Post, $"/api/people/{person}/erase", new { })).Json();
        Assert.Contains(erased.GetProperty("stillFound").EnumerateArray(), f => f.GetProperty("table").GetString() == "history.mt_events");
    }

    private async Task<IReadOnlyList<FoundIn>> Found(string name)
    {
        await using var connection = await service.Database().OpenConnectionAsync();
        return await NameSearch.Everywhere(connection, name, CancellationToken.None);
    }

    private static async Task<string> Attach(HttpClient client, string path, string text)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new ByteArrayContent(Encoding.UTF8.GetBytes(text)) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        var response = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Created, response.StatusCode);
        return response.Headers.Location!.ToString();
    }
}
