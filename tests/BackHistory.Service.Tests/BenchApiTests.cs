using System.Net;
using System.Text;
using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Tests;

/// <summary>From the latest tracing to the bench: the proposal in the workshop's marks, its papers, and what was done.</summary>
public sealed class BenchApiTests(RunningService service)
{
    private static readonly Gauge Hand = Gauge
        .Create("hand", "slope", "deg", [.. Enumerable.Range(0, 9).Select(i => new GaugeMark($"{i}", i, 30 + 2.5 * i))])
        .Gauge!;

    [Theory]
    [InlineData("4", 4.0)]
    [InlineData("4 +0.3", 4.3)]
    [InlineData("4 −0.3", 3.7)]
    [InlineData("4 -0.3", 3.7)]
    [InlineData("12", null)]
    [InlineData("8 +0.5", null)]
    [InlineData("by eye", null)]
    public void A_mark_that_was_written_down_is_read_back_as_its_place_or_not_at_all(string written, double? place)
    {
        var read = GaugeText.Position(Hand, written);
        if (place is { } expected)
            Assert.Equal(expected, read!.Value, 1e-9);
        else
            Assert.Null(read);
    }

    [Fact]
    public void Every_place_on_a_gauge_is_written_so_that_it_is_read_back_within_a_tenth_of_a_mark()
    {
        for (var place = 0.0; place <= 8; place += 0.037)
        {
            var written = GaugeText.Write(Hand.AtPosition(place)!);
            Assert.Equal(place, GaugeText.Position(Hand, written)!.Value, 0.0501);
        }
    }

    [Fact]
    public async Task A_back_that_opened_asks_the_saddle_for_marks_and_whoever_sets_it_otherwise_says_why()
    {
        using var client = service.Client();
        var horse = await client.Horse("Bench");
        var first = await Traced(client, horse, "2026-02-10T10:00:00Z", 45, 45);
        var marks = Enumerable
            .Range(0, 9)
            .Select(i => new
            {
                name = $"{i}",
                position = (double)i,
                value = 30 + 2.5 * i,
            })
            .ToArray();
        await client.Write(
            HttpMethod.Put,
            "/api/practice/gauges/at-the-bench",
            new
            {
                name = "Gauge at the bench",
                measure = "slope",
                unit = "deg",
                marks,
                reason = "As measured.",
            }
        );
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "Bench 7", gauge = "at-the-bench" })).Json())
            .GetProperty("id")
            .GetGuid();
        var set = await client.Write(
            HttpMethod.Post,
            $"/api/saddles/{saddle}/work",
            new
            {
                kind = "set",
                horseId = horse,
                visitId = first,
                takenAt = "2026-02-10T11:00:00Z",
                done = new[]
                {
                    new
                    {
                        part = "tree",
                        side = "left",
                        to = "6",
                        gauge = "at-the-bench",
                    },
                    new
                    {
                        part = "tree",
                        side = "right",
                        to = "6",
                        gauge = "at-the-bench",
                    },
                },
            }
        );
        Assert.True(set.StatusCode == HttpStatusCode.Created, await set.Content.ReadAsStringAsync());
        var later = await Traced(client, horse, "2026-06-10T10:00:00Z", 35, 45);

        var asked = await Eventually(client, $"/api/saddles/{saddle}/horses/{horse}/proposal", later);
        Assert.Equal("6", asked.GetProperty("standsLeft").GetString());
        // Ten degrees at two and a half a mark.
        Assert.Equal(2, GaugeText.Position(Hand, asked.GetProperty("setLeft").GetString())!.Value, 0.35);
        Assert.True(
            !asked.TryGetProperty("setRight", out var right) || right.ValueKind == System.Text.Json.JsonValueKind.Null,
            right.ToString()
        );

        var proposed = asked.GetProperty("setLeft").GetString();
        var silent = await client.Write(HttpMethod.Post, $"/api/saddles/{saddle}/work", Work(horse, later, proposed!, null));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, silent.StatusCode);
        Assert.Contains("say why", await silent.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        var said = await client.Write(
            HttpMethod.Post,
            $"/api/saddles/{saddle}/work",
            Work(horse, later, proposed!, "The rider asked for one step at a time.")
        );
        Assert.True(said.StatusCode == HttpStatusCode.Created, await said.Content.ReadAsStringAsync());

        Assert.Equal(
            "%PDF",
            Encoding.ASCII.GetString((await client.GetByteArrayAsync($"/api/saddles/{saddle}/horses/{horse}/setting.pdf"))[..4])
        );
        Assert.Equal("%PDF", Encoding.ASCII.GetString((await client.GetByteArrayAsync($"/api/horses/{horse}/template.pdf"))[..4]));
        Assert.Contains(
            "Gauge at the bench",
            await client.GetStringAsync("/api/practice/gauges/at-the-bench/curve.svg"),
            StringComparison.Ordinal
        );
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await client.GetAsync($"/api/saddles/{saddle}/horses/{Guid.NewGuid()}/proposal")).StatusCode
        );
    }

    [Fact]
    public async Task A_horse_and_a_saddle_are_found_by_a_part_of_what_they_are_called()
    {
        using var client = service.Client();
        var horse = await client.Horse("Quickthorn Findable");
        await client.Write(HttpMethod.Post, "/api/saddles", new { label = "Findable 12" });
        for (var i = 0; i < 3000; i++)
        {
            var found = (await client.GetFromJson("/api/find?q=findab"))
                .EnumerateArray()
                .Select(f => f.GetProperty("title").GetString())
                .ToList();
            if (found.Count == 2)
            {
                Assert.Equal(["Quickthorn Findable", "Findable 12"], found);
                Assert.Empty((await client.GetFromJson("/api/find?q=f%25d")).EnumerateArray());
                return;
            }

            await Task.Delay(200, TestContext.Current.CancellationToken);
        }

        Assert.Fail($"the horse {horse} was not found within twenty seconds");
    }

    private static object Work(Guid horse, Guid visit, string proposed, string? because) =>
        new
        {
            kind = "set",
            horseId = horse,
            visitId = visit,
            takenAt = "2026-06-10T11:00:00Z",
            done = new[]
            {
                new
                {
                    part = "tree",
                    side = "left",
                    from = "6",
                    to = "5",
                    gauge = "at-the-bench",
                    proposed,
                    because,
                },
            },
        };

    private static async Task<Guid> Traced(HttpClient client, Guid horse, string at, double left, double right)
    {
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = at,
                method = "flexible-curve",
                entries = new[] { ClientExtensions.Section(left, right, "behind-shoulder") },
            }
        );
        Assert.True(response.StatusCode == HttpStatusCode.Created, await response.Content.ReadAsStringAsync());
        return (await response.Json()).GetProperty("visitId").GetGuid();
    }

    private static async Task<System.Text.Json.JsonElement> Eventually(HttpClient client, string address, Guid latest)
    {
        for (var i = 0; i < 3000; i++)
        {
            // A read model may not have heard of the horse yet.
            using var response = await client.GetAsync(address);
            if (
                response.IsSuccessStatusCode
                && await response.Json() is var answer
                && answer.TryGetProperty("latestVisit", out var visit)
                && visit.GetGuid() == latest
                && answer.GetProperty("changes").GetArrayLength() > 0
            )
                return answer;
            await Task.Delay(200, TestContext.Current.CancellationToken);
        }

        throw new TimeoutException($"{address} did not come to the latest visit within forty seconds");
    }
}
