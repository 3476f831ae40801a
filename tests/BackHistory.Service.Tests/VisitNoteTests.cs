using System.Net;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests;

/// <summary>What was found at a visit, in words: beside the events, in the history while it stands.</summary>
public sealed class VisitNoteTests(RunningService service)
{
    [Fact]
    public async Task A_note_is_read_in_the_history_until_it_is_withdrawn_and_its_words_are_in_no_event()
    {
        const string words = "Flinched under the near-side tree point.";
        using var client = service.Client();
        var horse = await client.Horse();
        var made = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-06-12T10:00:00Z",
                method = "flexible-curve",
                conditions = new { head = "lowered", source = "sentIn" },
                entries = new object[]
                {
                    new
                    {
                        kind = "weight",
                        value = 540,
                        unit = "kg",
                    },
                    new { kind = "note", words },
                },
            }
        );
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var visit = await made.Json();
        var note = visit.GetProperty("entries")[1];

        using var fitter = await service.SignedIn(await service.Member("Note Reader", (RunningService.Mine, PracticeRole.Fitter)));
        Assert.Contains("0 tracings, 1 other entry", await fitter.Until($"/horses/{horse}", words), StringComparison.Ordinal);
        // The service's own; it lives on.
        var database = service.Database();
        await using (var events = database.CreateCommand("select data::text from history.mt_events where stream_id = $1"))
        {
            events.Parameters.Add(new Npgsql.NpgsqlParameter { Value = horse });
            await using var rows = await events.ExecuteReaderAsync();
            var read = 0;
            for (; await rows.ReadAsync(); read++)
                Assert.DoesNotContain("Flinched", rows.GetString(0), StringComparison.Ordinal);
            Assert.Equal(4, read);
        }

        var gone = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{visit.GetProperty("visitId").GetGuid()}/entries/{note.GetProperty("entryId").GetGuid()}/withdraw",
            new { reason = "Another horse." }
        );
        Assert.Equal(HttpStatusCode.OK, gone.StatusCode);
        await fitter.Until($"/horses/{horse}", "Another horse.");
        // The history and the visit are read models of their own: the one may be a moment behind the other.
        await fitter.UntilGone($"/horses/{horse}", words);
    }

    [Theory]
    [InlineData("  ", "no-words")]
    [InlineData(null, "too-long")]
    public async Task A_note_without_words_or_with_too_many_is_refused_with_the_whole_visit(string? words, string code)
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var refused = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-06-12T10:00:00Z",
                method = "flexible-curve",
                entries = new object[]
                {
                    new
                    {
                        kind = "weight",
                        value = 540,
                        unit = "kg",
                    },
                    new { kind = "note", words = words ?? new string('a', 4001) },
                },
            }
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Equal(code, (await refused.Json()).GetProperty("code").GetString());
        Assert.Equal(0, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("visits").GetInt32());
    }
}
