using System.Net;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>Idempotency keys that somebody outside chooses meet neither the service's own nor anybody else's.</summary>
public sealed class CallerKeyTests(RunningService service)
{
    [Theory]
    [InlineData("letter-sent:")]
    [InlineData("letter-given-up:")]
    [InlineData("take-back:")]
    [InlineData("answer:")]
    [InlineData("bulletin:")]
    [InlineData("evaluation:RaiseStep:")]
    public async Task A_key_of_the_services_own_sent_by_an_apprentice_leaves_the_services_command_undone(string words)
    {
        var key = words + Guid.NewGuid();
        using var apprentice = await service.Client(
            await service.Member($"Apprentice {words}", (RunningService.Mine, PracticeRole.Apprentice)),
            RunningService.Mine
        );
        var horse = await service.Client().Horse($"Horse Of {words}");
        Assert.True(
            (await apprentice.Write(HttpMethod.Post, $"/api/horses/{horse}/notes", new { text = "x" }, key)).StatusCode
                is not HttpStatusCode.InternalServerError
        );
        Assert.True(
            (
                await apprentice.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits",
                    new { takenAt = "2026-05-01T10:00:00Z", method = "flexible-curve" },
                    key
                )
            ).IsSuccessStatusCode
        );

        var own = new CommandContext(RunningService.Mine, Guid.Empty, key, "", null, DateTimeOffset.UnixEpoch.AddYears(56));
        var done = await service
            .Services.GetRequiredService<Commands>()
            .Execute<History.Horses.Horse>(
                own,
                horse,
                _ => History.Decided.Yes(new History.Horses.HorseWithdrawn("Found by the test.", own.Now, Guid.Empty)),
                CancellationToken.None
            );

        Assert.False(done.Repeated);
        Assert.Null(done.Refused);
    }

    [Fact]
    public async Task Two_people_with_the_same_key_do_two_things_and_one_person_with_it_does_one()
    {
        var key = Guid.NewGuid().ToString();
        using var one = await service.Client(
            await service.Member("Key One", (RunningService.Mine, PracticeRole.Fitter)),
            RunningService.Mine
        );
        using var two = await service.Client(
            await service.Member("Key Two", (RunningService.Mine, PracticeRole.Fitter)),
            RunningService.Mine
        );
        async Task<Guid> Make(HttpClient who, string name) =>
            (await (await who.Write(HttpMethod.Post, "/api/horses", new { name }, key)).Json()).GetProperty("id").GetGuid();

        var (first, other, again) = (await Make(one, "Of One"), await Make(two, "Of Two"), await Make(one, "Of One"));

        Assert.NotEqual(first, other);
        Assert.Equal(first, again);
    }

    [Fact]
    public async Task A_request_that_an_earlier_release_carried_out_is_still_known_when_it_comes_again()
    {
        using var client = service.Client();
        var (key, horse) = (Guid.NewGuid().ToString(), await client.Horse("Horse Of A Release"));
        var visit = new { takenAt = "2026-05-01T10:00:00Z", method = "flexible-curve" };
        Assert.True((await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit, key)).IsSuccessStatusCode);
        // As it lay before keys stood under a person.
        await using var bare = service
            .Database()
            .CreateCommand(
                "update history.mt_doc_commandreceipt set id = $1, data = jsonb_set(data, '{id}', to_jsonb($1::text)) where id like '%/' "
                    + "|| $1"
            );
        bare.Parameters.Add(new Npgsql.NpgsqlParameter { Value = key });
        Assert.Equal(1, await bare.ExecuteNonQueryAsync());

        Assert.True((await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit, key)).IsSuccessStatusCode);
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("visits").GetInt32());
    }
}
