using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Erasing;
using BackHistory.Store.Imports;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Testing;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>Documents beside the events: what was read a while ago and is noted now takes back nothing that happened since, and brings
/// nothing back.</summary>
public sealed class DocumentTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private readonly FixedTime _time = new(June);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task A_key_that_was_ended_while_it_was_in_use_stays_ended()
    {
        var keys = new AccessKeys(_store.Whole);
        var key = new AccessKey(AccessKey.HashOf("bhk_1"), "program", DeterministicId.From("account"), Practice, June, June.AddDays(9));
        await keys.Save(key, CancellationToken.None);
        Assert.Equal(June.AddDays(1), (await keys.Used(key, June.AddDays(1), CancellationToken.None))!.LastUsed);
        Assert.Equal(June.AddDays(1), (await keys.Load(key.Id, CancellationToken.None))!.LastUsed);
        await keys.Remove(key.AccountId, Practice, key.Id, CancellationToken.None);
        Assert.Null(await keys.Used(key, June.AddDays(2), CancellationToken.None));
        Assert.Null(await keys.Load(key.Id, CancellationToken.None));
    }

    [Fact]
    public async Task A_session_that_was_ended_while_it_was_seen_stays_ended()
    {
        var sessions = new SignInSessions(_store.Whole, _time);
        var session = new SignInSession("hash", DeterministicId.From("account"), June, June, June, "pwd", "Firefox");
        await sessions.Add(session, CancellationToken.None);
        await sessions.End(session.AccountId, session.Id, CancellationToken.None);
        await sessions.Change(session.Id, s => s with { SeenAt = June.AddMinutes(6) }, CancellationToken.None);
        Assert.Null(await sessions.Living(session.Id, CancellationToken.None));
    }

    [Fact]
    public async Task A_calendar_address_that_was_revoked_while_it_was_read_stays_revoked()
    {
        var feeds = new CalendarFeeds(_store.Store);
        var feed = new CalendarFeed(DeterministicId.From("feed"), "Visits", null, Guid.Empty, June);
        await feeds.Add(Practice, feed, CancellationToken.None);
        await feeds.Change(Practice, feed.Id, f => f with { RevokedAt = June }, CancellationToken.None);
        await feeds.Change(Practice, feed.Id, f => f with { LastUsed = June }, CancellationToken.None);
        await feeds.Add(Practice, feed, CancellationToken.None);
        var kept = (await feeds.Load(Practice, feed.Id, CancellationToken.None))!;
        Assert.Equal((June, June), (kept.RevokedAt, kept.LastUsed));
    }

    [Fact]
    public async Task Other_software_that_is_told_no_more_stays_so_while_it_is_being_told()
    {
        var webhooks = new WebhookStore(_store.Store);
        var webhook = new Webhook(DeterministicId.From("webhook"), "https://elsewhere.invalid/", "whsec_", [], Guid.Empty, June);
        await webhooks.Add(Practice, webhook, CancellationToken.None);
        Assert.Equal(3, (await webhooks.Change(Practice, webhook.Id, w => w with { Position = 3 }, CancellationToken.None))!.Position);
        await webhooks.Remove(Practice, webhook.Id, CancellationToken.None);
        Assert.Null(await webhooks.Change(Practice, webhook.Id, w => w with { Position = 4 }, CancellationToken.None));
        Assert.Null(await webhooks.Load(Practice, webhook.Id, CancellationToken.None));
    }

    [Fact]
    public async Task An_invitation_that_was_taken_back_while_it_was_accepted_says_both()
    {
        var invitations = new Invitations(_store.Whole, _time);
        var invitation = new Invitation(
            DeterministicId.From("invitation"),
            Practice,
            DeterministicId.From("person"),
            "new@people.invalid",
            "en",
            PracticeRole.Fitter,
            Guid.Empty,
            June,
            June.AddDays(7)
        );
        await invitations.Add(invitation, CancellationToken.None);
        await invitations.Change(invitation.Id, i => i with { RevokedAt = June }, CancellationToken.None);
        await invitations.Change(invitation.Id, i => i with { AcceptedAt = June }, CancellationToken.None);
        var kept = (await invitations.Load(invitation.Id, CancellationToken.None))!;
        Assert.Equal((June, June), (kept.RevokedAt, kept.AcceptedAt));
    }

    [Fact]
    public async Task Fifty_changes_of_one_person_at_once_are_all_there_and_another_practice_changes_nothing()
    {
        var people = new PracticeQueries(_store.Store);
        var person = new Person(DeterministicId.From("person"), "Ann", null, "", null, PersonRole.Owner);
        await people.Add(Practice, person, CancellationToken.None);
        await Task.WhenAll(
            Enumerable
                .Range(0, 50)
                .Select(_ =>
                    Task.Run(() => people.Change(Practice, person.Id, p => p with { Phone = p.Phone + "1" }, CancellationToken.None))
                )
        );
        Assert.Null(await people.Change("theirs", person.Id, p => p with { Name = "Changed" }, CancellationToken.None));
        var kept = (await people.Person(Practice, person.Id, CancellationToken.None))!;
        Assert.Equal((50, "Ann"), (kept.Phone!.Length, kept.Name));
    }

    [Fact]
    public async Task An_account_that_was_removed_while_it_was_being_changed_stays_removed()
    {
        var accounts = new AccountDocuments(_store.Whole);
        var account = new Account
        {
            Id = DeterministicId.From("account"),
            Email = "a@b.invalid",
            NormalizedEmail = "A@B.INVALID",
        };
        Assert.True(await accounts.Add(account, CancellationToken.None));
        var loaded = (await accounts.Load(account.Id, CancellationToken.None))!;
        await accounts.Remove(account, CancellationToken.None);
        loaded.Language = "de";
        Assert.False(await accounts.Save(loaded, CancellationToken.None));
        Assert.Null(await accounts.Load(account.Id, CancellationToken.None));
    }

    [Theory]
    [InlineData("end")]
    [InlineData("end others")]
    [InlineData("make room")]
    public async Task A_session_that_is_forgotten_while_it_is_ended_does_not_come_back(string act)
    {
        var (sessions, account) = (new SignInSessions(_store.Whole, _time), DeterministicId.From("account"));
        for (var n = 0; n < SignInSession.Most; n++)
            await sessions.Add(new SignInSession($"hash {n}", account, June, June.AddSeconds(n), June, "pwd", "Firefox"), default);
        // Whoever erases the account is at it: what was read of the session before waits for them.
        await using var connection = await _store.Database.OpenConnectionAsync();
        await using var erasing = await connection.BeginTransactionAsync();
        await using (var delete = new NpgsqlCommand("delete from history.mt_doc_signinsession where account_id = $1", connection, erasing))
        {
            delete.Parameters.Add(new NpgsqlParameter { Value = account });
            Assert.Equal(SignInSession.Most, await delete.ExecuteNonQueryAsync());
        }

        var ended = act switch
        {
            "end" => sessions.End(account, "hash 0", default),
            "end others" => sessions.EndOthers(account, "hash 1", default),
            _ => sessions.Add(new SignInSession("one more", account, June, June.AddDays(1), June, "pwd", "Firefox"), default),
        };
        await Waits(ended);
        await erasing.CommitAsync();
        await ended;

        await using var left = _store.Database.CreateCommand(
            "select coalesce(string_agg(id, ', '), '') from history.mt_doc_signinsession where id <> 'one more'"
        );
        Assert.Equal("", await left.ExecuteScalarAsync());
    }

    [Fact]
    public async Task An_invitation_that_is_erased_while_another_takes_its_place_does_not_come_back()
    {
        var invitations = new Invitations(_store.Whole, _time);
        Invitation One(string id) =>
            new(
                DeterministicId.From(id),
                Practice,
                DeterministicId.From("person"),
                "new@people.invalid",
                "en",
                PracticeRole.Fitter,
                Guid.Empty,
                June,
                June.AddDays(7)
            );
        await invitations.Add(One("first"), default);
        await using var connection = await _store.Database.OpenConnectionAsync();
        await using var erasing = await connection.BeginTransactionAsync();
        await using (var delete = new NpgsqlCommand("delete from history.mt_doc_invitation", connection, erasing))
            Assert.Equal(1, await delete.ExecuteNonQueryAsync());
        var added = invitations.Add(One("second"), default);
        await Waits(added);
        await erasing.CommitAsync();
        await added;
        Assert.Null(await invitations.Load(DeterministicId.From("first"), default));
        Assert.NotNull(await invitations.Load(DeterministicId.From("second"), default));
    }

    [Fact]
    public async Task A_table_that_was_discarded_while_somebody_was_at_it_does_not_come_back()
    {
        var imports = _store.Get<ImportStore>();
        var import = new Import(DeterministicId.From("import"), "horses.csv", 0, June, Guid.Empty);
        import = await imports.Keep(Practice, import, "name\nBramble\n"u8.ToArray(), default);
        Assert.True(await imports.Discard(Practice, import.Id, default));
        Assert.False(await imports.Save(Practice, import with { Lines = 1 }, [], [], default));
        Assert.Null(await imports.Load(Practice, import.Id, default));
        await imports.Forget(Practice, import, ImportState.Entered, default);
        Assert.Null(await imports.Load(Practice, import.Id, default));
    }

    [Fact]
    public async Task A_letter_that_was_being_written_while_its_reader_was_erased_is_not_kept()
    {
        var (people, letter) = (new PracticeQueries(_store.Store), DeterministicId.From("letter"));
        var person = new Person(DeterministicId.From("person"), "Ann", "ann@people.invalid", null, null, PersonRole.Owner);
        await _store.Found(Practice, June);
        await people.Add(Practice, person, default);
        var content = new LetterContent(letter, "Ann", "ann@people.invalid", "Subject", "", "Dear Ann", [], "", June);
        var erase = PracticeStore.Context(Practice, "erase", June);
        Assert.Null(
            (await _store.Get<Erasure>().Erase(erase, person.Id, (_, _) => Task.FromResult<IReadOnlyList<LeftBehind>>([]), default)).Refused
        );
        Assert.False(await _store.Reminders.Keep(Practice, person.Id, content, default));
        Assert.Null(await _store.Reminders.Content(Practice, letter, default));
    }

    /// <summary>Until the act waits for a row that somebody else has, or is done without.</summary>
    private async Task Waits(Task act)
    {
        while (!act.IsCompleted)
        {
            await using var ask = _store.Database.CreateCommand(
                "select count(*) from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'"
            );
            if ((long)(await ask.ExecuteScalarAsync())! > 0)
                return;
            await Task.Delay(10);
        }
    }
}
