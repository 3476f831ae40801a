using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>A practice full of what nobody else may learn, and five kinds of stranger who try.</summary>
internal sealed class Strangers(RunningService service)
{
    /// <summary>Words that stand in the practice's records and may stand in no answer to a stranger.</summary>
    public static readonly string[] Secrets = ["Quillfeather", "Marrowgate", "Bramblethorn", "Ottershaw", "Vellichor"];

    /// <summary>Ids of everything that the practice has, by what they are.</summary>
    public Dictionary<string, Guid> Ids { get; } = [];

    public async Task Fill()
    {
        using var client = service.Client();
        Ids["person"] = await service.Person(RunningService.Mine, "Marrowgate");
        var yard = await (await client.Write(HttpMethod.Post, "/api/yards", new { name = "Ottershaw" })).Json();
        Ids["yard"] = yard.GetProperty("id").GetGuid();
        var horse = Ids["horse"] = await client.Horse("Quillfeather", Ids["person"]);
        var visit = await (
            await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = DateTimeOffset.UnixEpoch.AddYears(55),
                    method = "Vellichor",
                    entries = new[] { ClientExtensions.Section(45, 44) },
                }
            )
        ).Json();
        Ids["visit"] = visit.GetProperty("visitId").GetGuid();
        Ids["entry"] = visit.GetProperty("entries")[0].GetProperty("entryId").GetGuid();
        var saddle = Ids["saddle"] = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "Bramblethorn" })).Json())
            .GetProperty("id")
            .GetGuid();
        Ids["work"] = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/saddles/{saddle}/work",
                    new
                    {
                        kind = "set",
                        horseId = horse,
                        visitId = Ids["visit"],
                        takenAt = DateTimeOffset.UnixEpoch.AddYears(55).AddHours(2),
                        fresh = false,
                    }
                )
            ).Json()
        ).GetProperty("workId").GetGuid();
        Ids["grant"] = (
            await (
                await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants", new { personId = Ids["person"], role = "owner" })
            ).Json()
        )
            .GetProperty("id")
            .GetGuid();
        Ids["link"] = (
            await (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian" })).Json()
        )
            .GetProperty("id")
            .GetGuid();
        Ids["care"] = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/care",
                    new
                    {
                        kind = "illness",
                        from = "2024-01-10",
                        words = "Vellichor",
                    }
                )
            ).Json()
        ).GetProperty("made").GetGuid();
        Ids["reminder"] = await Reminder(horse);
    }

    /// <summary>How a stranger asks; <c>Own</c> is a horse of their own, where they have one.</summary>
    public async Task<IReadOnlyList<(string Kind, HttpClient Client, Guid Own)>> Come()
    {
        // A practice that no other test writes to: what its pages show is compared between two looks.
        const string elsewhere = "strangers";
        await service.Found(elsewhere);
        var reader = await service.Member("Stranger Reader", (elsewhere, PracticeRole.ReadOnly));
        var left = await service.Member("Stranger Who Left", (RunningService.Mine, PracticeRole.Manager));
        var administrator = service.Client(elsewhere);
        var gone = await service.Client(left, RunningService.Mine);
        await service
            .Services.GetRequiredService<AccountDocuments>()
            .Change(left.AccountId, a => a.Memberships = [], CancellationToken.None);
        var own = await administrator.Horse("Horse Of The Stranger");
        var treated = await Treats();
        return
        [
            ("nobody", service.Anonymous(), Guid.NewGuid()),
            ("another practice's administrator", administrator, own),
            ("another practice's reader", await service.Client(reader, elsewhere), own),
            ("somebody who left", gone, Guid.NewGuid()),
            ("a vet of another horse", treated, Guid.NewGuid()),
        ];
    }

    /// <summary>Position of the last event of the practice: nothing that a stranger does may move it.</summary>
    public async Task<long> Last()
    {
        await using var command = service
            .Services.GetRequiredKeyedService<Npgsql.NpgsqlDataSource>("owner")
            .CreateCommand("select max(seq_id) from history.mt_events where tenant_id = 'mine'");
        return (long)(await command.ExecuteScalarAsync())!;
    }

    /// <summary>
    /// What stands in the practice's history since about anything that a stranger tried, but for what the service's own jobs wrote. Other
    /// tests write beside this one, about horses of their own.
    /// </summary>
    public async Task<long> WrittenSince(long last)
    {
        await using var command = service
            .Services.GetRequiredKeyedService<Npgsql.NpgsqlDataSource>("owner")
            .CreateCommand(
                "select count(*) from history.mt_events where tenant_id = 'mine' and seq_id > $1 and user_name is distinct from $2 and "
                    + "(stream_id = any($3) or data::text like any($4))"
            );
        command.Parameters.Add(new Npgsql.NpgsqlParameter { Value = last });
        command.Parameters.Add(new Npgsql.NpgsqlParameter { Value = ReminderPolicy.TheService.ToString() });
        command.Parameters.Add(new Npgsql.NpgsqlParameter { Value = Ids.Values.ToArray() });
        command.Parameters.Add(new Npgsql.NpgsqlParameter { Value = Ids.Values.Select(id => $"%{id}%").ToArray() });
        return (long)(await command.ExecuteScalarAsync())!;
    }

    private async Task<HttpClient> Treats()
    {
        using var client = service.Client();
        var other = await client.Horse("A Horse That Is Shared");
        var member = await service.Member("Vet Of Another Horse");
        var account = service.Services.GetRequiredService<AccountDocuments>();
        var person = await service.Person(RunningService.Mine, "Vet Of Another", PersonRole.Veterinarian);
        var grant = (
            await (
                await client.Write(HttpMethod.Post, $"/api/horses/{other}/sharing/grants", new { personId = person, role = "veterinarian" })
            ).Json()
        )
            .GetProperty("id")
            .GetGuid();
        await account.Change(member.AccountId, a => a.Shared = [new HeldGrant(RunningService.Mine, other, grant)], CancellationToken.None);
        var browser = await service.SignedIn(member);
        Assert.Equal(System.Net.HttpStatusCode.OK, (await browser.Get($"/shared-with-me/{grant}")).StatusCode);
        return browser.Client;
    }

    private async Task<Guid> Reminder(Guid horse)
    {
        var (id, now) = (DeterministicId.From("reminder of the secret horse"), TestClock.Running.GetUtcNow());
        var evidence = Evidence.WithoutMeasure(
            ZoneClock.Day(now, TimeZoneInfo.Utc),
            1,
            ZoneClock.Day(now, TimeZoneInfo.Utc),
            "Quillfeather is due."
        );
        var outcome = await service
            .Services.GetRequiredService<Commands>()
            .Execute<Reminder>(
                new CommandContext(RunningService.Mine, Guid.Empty, "secret reminder", "", null, now),
                id,
                r => ReminderDecider.Decide(r, new RaiseReminder(id, horse, null, ReminderRule.CheckDue, evidence, [], Guid.Empty), now),
                CancellationToken.None
            );
        Assert.Null(outcome.Refused);
        return id;
    }
}
