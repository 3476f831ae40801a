using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Testing;

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
        var key = new AccessKey(AccessKey.HashOf("bhk_1"), "program", DeterministicId.Of("account"), Practice, June, June.AddDays(9));
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
        var session = new SignInSession("hash", DeterministicId.Of("account"), June, June, June, "pwd", "Firefox");
        await sessions.Add(session, CancellationToken.None);
        await sessions.End(session.AccountId, session.Id, CancellationToken.None);
        await sessions.Change(session.Id, s => s with { SeenAt = June.AddMinutes(6) }, CancellationToken.None);
        Assert.Null(await sessions.Living(session.Id, CancellationToken.None));
    }

    [Fact]
    public async Task A_calendar_address_that_was_revoked_while_it_was_read_stays_revoked()
    {
        var feeds = new CalendarFeeds(_store.Store);
        var feed = new CalendarFeed(DeterministicId.Of("feed"), "Visits", null, Guid.Empty, June);
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
        var webhook = new Webhook(DeterministicId.Of("webhook"), "https://elsewhere.invalid/", "whsec_", [], Guid.Empty, June);
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
            DeterministicId.Of("invitation"),
            Practice,
            DeterministicId.Of("person"),
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
        var person = new Person(DeterministicId.Of("person"), "Ann", null, "", null, PersonRole.Owner);
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
}
