using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Store;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>Letters that wait, and what must not wait with them.</summary>
public sealed class WaitingLetterTests : IAsyncLifetime
{
    /// <summary>Ticks of 100 ns that no microsecond holds: a real clock shows such times nine times in ten.</summary>
    private static readonly DateTimeOffset Odd = new DateTimeOffset(2026, 3, 2, 9, 0, 0, TimeSpan.Zero).AddTicks(1_234_567);

    private readonly FixedTime _time = new(Odd.AddDays(1));
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("backhistory-letters-");
    private PracticeStore _store = null!;
    private TestYard _yard = null!;
    private PracticePost _post = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, PracticePost.Practice);
        _post = new PracticePost(
            _store,
            _time,
            new MailSettings(null, 25, null, null, "practice@backhistory.invalid", "backhistory.invalid", _folder.FullName)
        );
        await _post.Known();
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    [Fact]
    public async Task A_letter_that_waits_ends_the_run_and_does_not_hold_back_the_others()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1));
        var sleeper = await _post.Person("Sleeping Owner", PersonRole.Owner, zone: "Asia/Tokyo");
        await Quietly();
        await PracticePost.NeverMeasured(_yard, "Waiting Horse", sleeper, Odd);
        var awake = await _post.Person("Waking Owner", PersonRole.Owner, zone: "Etc/UTC");
        await PracticePost.NeverMeasured(_yard, "Told Horse", awake, Odd.AddTicks(1));

        // 14:00 in Greenwich, 23:00 in Tokyo.
        _time.Now = new DateTimeOffset(2026, 3, 3, 14, 0, 0, TimeSpan.Zero);
        await Send().WaitAsync(TimeSpan.FromMinutes(5));

        Assert.Equal([awake], Told());
    }

    [Fact]
    public async Task One_address_that_is_none_is_given_up_with_its_reason_and_the_next_letter_leaves()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1));
        var bad = DeterministicId.From("bad address");
        // As earlier releases took it.
        await _post.Practices.Save(
            PracticePost.Practice,
            [new Person(bad, "Anna", "Anna <anna@example.org>", null, null, PersonRole.Owner)],
            CancellationToken.None
        );
        await PracticePost.NeverMeasured(_yard, "First Horse", bad, Odd);
        var good = await _post.Person("Good Owner", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "Second Horse", good, Odd.AddMinutes(1));

        await Send();

        Assert.Equal([good], Told());
        var letter = Assert.Single(await Letters(), l => l.To == bad);
        Assert.Equal(LetterState.GivenUp, letter.State);
        Assert.Contains("e-mail address is not valid", letter.Through, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_letter_that_cannot_be_composed_is_tried_again_with_patience_given_up_in_the_end_and_the_next_one_leaves_at_once()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1));
        var first = await _post.Person("First Owner", PersonRole.Owner);
        var reminder = await PracticePost.NeverMeasured(_yard, "First Horse", first, Odd);
        var second = await _post.Person("Second Owner", PersonRole.Owner, language: "de");
        await PracticePost.NeverMeasured(_yard, "Second Horse", second, Odd.AddMinutes(1));
        // Words that no letter of this kind can be written by, as an older release or an archive could hold them.
        await _yard.Do<History.Practices.Practice>(
            DeterministicId.From("practice", PracticePost.Practice),
            Odd,
            _ => Decided.Yes(new LetterTemplateChanged(LetterKind.OwnerCheck, "en", 1, "{% no such thing %}", Odd, Guid.Empty))
        );

        await Send();

        Assert.Equal([second], Told());
        Assert.Equal(LetterState.Deferred, Assert.Single(await Letters(), l => l.ReminderId == reminder).State);
        for (var days = 0; days < 3 && (await Letters()).Any(l => l.State == LetterState.Deferred); days++)
        {
            for (var hours = 0; hours < 24; hours += 4)
            {
                _time.Now += TimeSpan.FromHours(4);
                await Send();
            }
        }

        var ended = Assert.Single(await Letters(), l => l.ReminderId == reminder);
        Assert.Equal(LetterState.GivenUp, ended.State);
        Assert.StartsWith("Given up after 12 attempts", ended.Through, StringComparison.Ordinal);
        Assert.DoesNotContain("First Owner", ended.Through, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_first_letters_of_a_practice_wait_until_somebody_lets_them_go_and_the_staffs_own_lists_do_not()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1), lettersLeave: false);
        var owner = await _post.Person("First Owner", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "First Horse", owner, Odd);
        // Tuesday at noon: no quiet hour.
        _time.Now = new DateTimeOffset(2026, 3, 3, 12, 0, 0, TimeSpan.Zero);

        await Send();
        Assert.Empty(Told());

        await _yard.Do<History.Practices.Practice>(
            DeterministicId.From("practice", PracticePost.Practice),
            _time.Now,
            p => PracticeDecider.Decide(p, new ReleaseLetters(Guid.Empty), _time.Now)
        );
        await Send();
        Assert.Equal([owner], Told());
    }

    [Fact]
    public async Task Of_the_first_letters_only_those_that_would_truly_leave_are_counted()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1), lettersLeave: false);
        var owner = await _post.Person("Counted Owner", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "Counted Horse", owner, Odd);
        var withdrawn = await PracticePost.NeverMeasured(_yard, "Withdrawn Horse", owner, Odd.AddMinutes(1));
        await _yard.Do<Reminder>(
            withdrawn,
            Odd.AddMinutes(2),
            r => ReminderDecider.Decide(r, new WithdrawReminder("It was measured.", [], Guid.Empty), Odd.AddMinutes(2))
        );
        var nobody = DeterministicId.From("no address");
        await _post.Practices.Save(
            PracticePost.Practice,
            [new Person(nobody, "No Address", null, null, null, PersonRole.Owner)],
            CancellationToken.None
        );
        await PracticePost.NeverMeasured(_yard, "Unreachable Horse", nobody, Odd.AddMinutes(3));
        await _store.CatchUp();

        var waiting = await _post.First.Waiting(PracticePost.Practice, CancellationToken.None);

        Assert.Equal(3, (await Letters()).Count(l => l.State == LetterState.Owed));
        Assert.Equal([owner], waiting.Select(l => l.To));
        Assert.NotEqual(withdrawn, waiting.Single().ReminderId);
    }

    [Fact]
    public async Task A_letter_to_the_practices_own_staff_leaves_before_the_first_letters_and_is_nobodys_go()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1), lettersLeave: false);
        var fitter = await _post.Person("Own Fitter", PersonRole.Fitter);
        await PracticePost.NeverMeasured(_yard, "Fitter's Horse", fitter, Odd);
        var owner = await _post.Person("First Owner", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "First Horse", owner, Odd.AddMinutes(1));
        _time.Now = new DateTimeOffset(2026, 3, 3, 12, 0, 0, TimeSpan.Zero);

        await Send();
        Assert.Equal([fitter], Told());
        Assert.Equal([owner], (await _post.First.Waiting(PracticePost.Practice, CancellationToken.None)).Select(l => l.To));

        await Send();
        Assert.Equal([fitter], Told());
    }

    [Fact]
    public async Task A_practice_that_set_nothing_writes_to_nobody_on_a_Sunday_night()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1), lettersLeave: false);
        await _yard.Do<History.Practices.Practice>(
            DeterministicId.From("practice", PracticePost.Practice),
            Odd,
            p => PracticeDecider.Decide(p, new ReleaseLetters(Guid.Empty), Odd)
        );
        var owner = await _post.Person("Owner Of A Sunday", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "Sunday Horse", owner, Odd);

        _time.Now = new DateTimeOffset(2026, 11, 29, 1, 48, 0, TimeSpan.Zero);
        await Send();
        Assert.Empty(Told());

        _time.Now = new DateTimeOffset(2026, 11, 30, 8, 0, 0, TimeSpan.Zero);
        await Send();
        Assert.Equal([owner], Told());
    }

    [Fact]
    public async Task A_letter_that_waits_at_the_mail_server_is_not_sent_to_somebody_who_stopped_such_letters_meanwhile()
    {
        await _store.Found(PracticePost.Practice, Odd.AddYears(-1));
        var owner = await _post.Person("Stopping Owner", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "Stopped Horse", owner, Odd);
        var letter = Assert.Single(await Letters());
        await _store.Reminders.Keep(
            PracticePost.Practice,
            LetterAttempts.After(null, letter.Id, "the mail server refused it: 451", _time.Now),
            CancellationToken.None
        );
        var person = (await _post.Practices.Person(PracticePost.Practice, owner, CancellationToken.None))!;
        await _post.Practices.Save(PracticePost.Practice, [person with { Stopped = [LetterKind.OwnerCheck] }], CancellationToken.None);

        _time.Now += TimeSpan.FromHours(5);
        await Send();

        Assert.Empty(Told());
        Assert.Equal(LetterState.GivenUp, Assert.Single(await Letters()).State);
    }

    private async Task Send()
    {
        await _store.CatchUp();
        await _post.Job().Run(PracticePost.Practice, CancellationToken.None);
    }

    /// <summary>The usual nights, by everybody's own clock.</summary>
    private Task Quietly()
    {
        var rules = ReminderRules.Default with { Letters = ReminderRules.Default.Letters with { QuietDays = [] } };
        return _yard.Do<History.Practices.Practice>(
            DeterministicId.From("practice", PracticePost.Practice),
            Odd,
            p => PracticeDecider.Decide(p, new ChangeReminderRules(rules, "Nights are quiet.", Guid.Empty), Odd)
        );
    }

    private async Task<IReadOnlyList<Letter>> Letters()
    {
        await using var session = _store.Store.QuerySession(PracticePost.Practice);
        return await Marten.QueryableExtensions.ToListAsync(session.Query<Letter>());
    }

    /// <summary>Whom letters reached, by the address on the envelope.</summary>
    private IReadOnlyList<Guid> Told() =>
        [
            .. _folder
                .GetFiles("*.eml")
                .OrderBy(f => f.Name, StringComparer.Ordinal)
                .Select(f => Guid.ParseExact(MimeKit.MimeMessage.Load(f.FullName).To.Mailboxes.Single().Address.Split('@')[0], "N")),
        ];
}
