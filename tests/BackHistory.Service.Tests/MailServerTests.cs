using BackHistory.Application.Letters;
using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Language.Timeline;
using BackHistory.Service.Configuration;
using BackHistory.Service.Jobs;
using BackHistory.Service.Reminders;
using BackHistory.Service.Sharing;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.Logging.Abstractions;

namespace BackHistory.Service.Tests;

/// <summary>What becomes of one owed letter at a real mail server.</summary>
public sealed class MailServerTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset Spring = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private readonly FixedTime _time = new(Spring.AddDays(120));
    private MailCatcher _mail = null!;
    private PracticeStore _store = null!;
    private Letter _letter = null!;
    private LetterJob _job = null!;

    public async ValueTask InitializeAsync()
    {
        _mail = await MailCatcher.Start();
        _store = await PracticeStore.Open();
        await _store.Found(Practice, Spring.AddYears(-1));
        await new KnownPractices(_store.Whole).Add(new KnownPractice(Practice, Practice, "Etc/UTC"), CancellationToken.None);
        var owner = new Person(DeterministicId.From("owner"), "Anna Owner", "anna@people.invalid", null, null, PersonRole.Owner);
        await new PracticeQueries(_store.Store).Save(Practice, [owner], CancellationToken.None);
        await FittedThenOpened(owner.Id);
        _letter = Assert.Single(await Owed());
        _job = Job();
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        await _mail.DisposeAsync();
    }

    [Fact]
    public async Task A_letter_is_delivered_once_under_its_own_message_id()
    {
        await Send();
        await Send();

        var delivered = Assert.Single(_mail.Letters);
        Assert.Equal($"{_letter.Id:N}@backhistory.invalid", delivered.MessageId);
        Assert.Equal("anna@people.invalid", delivered.To.Mailboxes.Single().Address);
        Assert.Equal("practice@backhistory.invalid", delivered.From.Mailboxes.Single().Address);
        var noted = await Letter();
        Assert.Equal((LetterState.Sent, delivered.MessageId), (noted.State, noted.MessageId));
    }

    [Fact]
    public async Task A_server_that_asks_to_come_again_later_gets_the_letter_later_and_not_at_once()
    {
        _mail.Manner = MailManner.PutsOff;
        await Send();
        _mail.Manner = MailManner.Accepts;
        await Send();
        Assert.Single(_mail.Letters);
        Assert.Equal(LetterState.Deferred, (await Letter()).State);
        Assert.Contains("451", (await Attempts())!.Why, StringComparison.Ordinal);

        _time.Now += TimeSpan.FromMinutes(3);
        await Send();
        Assert.Equal(LetterState.Sent, (await Letter()).State);
        Assert.Equal(2, _mail.Letters.Count);
        Assert.Single(_mail.Letters.Select(l => l.MessageId).Distinct(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_server_that_keeps_putting_a_letter_off_is_asked_less_and_less_often_and_in_the_end_no_more()
    {
        _mail.Manner = MailManner.PutsOff;
        var pauses = new List<TimeSpan>();
        while ((await Letter()).State is LetterState.Owed or LetterState.Deferred)
        {
            await Send();
            if ((await Attempts())?.NotBefore is not { } next || (await Letter()).State != LetterState.Deferred)
                break;
            pauses.Add(next - _time.Now);
            _time.Now = next;
            Assert.True(pauses.Count < 50, "it never gives up");
        }

        Assert.Equal(pauses.Order(), pauses);
        Assert.Equal(LetterState.GivenUp, (await Letter()).State);
        Assert.Equal(pauses.Count + 1, _mail.Letters.Count);
    }

    [Fact]
    public async Task A_letter_that_the_server_refuses_is_given_up_and_says_why()
    {
        _mail.Manner = MailManner.Refuses;
        await Send();
        _mail.Manner = MailManner.Accepts;
        _time.Now += TimeSpan.FromDays(2);
        await Send();

        Assert.Single(_mail.Letters);
        var letter = await Letter();
        Assert.Equal((LetterState.GivenUp, "The mail server refused it: 550."), (letter.State, letter.Through));
        await _store.CatchUp();
        var told = (await _store.Horses.Timeline(Practice, _letter.HorseId!.Value, null, 50, CancellationToken.None))!;
        Assert.Contains(told, t => t.InWords(TimeZoneInfo.Utc) == "The letter could not be sent: The mail server refused it: 550.");
    }

    [Fact]
    public async Task A_connection_that_breaks_after_the_letter_was_handed_over_sends_the_same_letter_again()
    {
        _mail.Manner = MailManner.HangsUp;
        await Send();
        Assert.Single(_mail.Letters);
        Assert.Equal(LetterState.Owed, (await Letter()).State);

        _mail.Manner = MailManner.Accepts;
        await Send();
        var (first, second) = (_mail.Letters.First(), _mail.Letters.Last());
        Assert.Equal(2, _mail.Letters.Count);
        Assert.Equal(LetterState.Sent, (await Letter()).State);
        Assert.Equal($"{_letter.Id:N}@backhistory.invalid", first.MessageId);
        Assert.Equal(
            (first.MessageId, first.Subject, first.TextBody, first.HtmlBody, first.Date),
            (second.MessageId, second.Subject, second.TextBody, second.HtmlBody, second.Date)
        );
    }

    [Fact]
    public async Task While_no_server_answers_the_letter_waits()
    {
        await _mail.Stop();
        await Send();

        Assert.Equal(LetterState.Owed, (await Letter()).State);
        Assert.Empty(_mail.Letters);
    }

    private Task Send() => _job.Run(Practice, CancellationToken.None);

    private async Task<Letter> Letter() =>
        (await _store.Reminders.LettersOf(Practice, _letter.ReminderId!.Value, CancellationToken.None)).Single(l => l.Id == _letter.Id);

    private async Task<LetterContent> Content() => (await _store.Reminders.Content(Practice, _letter.Id, CancellationToken.None))!;

    private Task<LetterAttempts?> Attempts() => _store.Reminders.Attempts(Practice, _letter.Id, CancellationToken.None);

    private Task<IReadOnlyList<Letter>> Owed() => _store.Reminders.Owed(Practice, 10, CancellationToken.None);

    /// <summary>A saddle set in spring, and both shoulders twelve degrees opener in summer.</summary>
    private async Task FittedThenOpened(Guid owner)
    {
        var yard = new TestYard(_store, Practice);
        var horse = await yard.Horse(Spring.AddDays(-200), owner: owner);
        foreach (var days in new[] { -180, -90 })
            await yard.Visit(horse, Spring.AddDays(days), 45, 45);
        var visit = await yard.Visit(horse, Spring, 45, 45);
        var saddle = await yard.Saddle(Spring);
        await yard.Set(saddle, horse, visit, Spring.AddHours(1));
        await yard.Visit(horse, _time.Now.AddHours(-1), 33, 33);
        await _store.CatchUp();
        await _store.EvaluationAt(_time).Run(Practice, CancellationToken.None);
    }

    private LetterJob Job()
    {
        var settings = new Settings(
            "http://127.0.0.1:0",
            ".",
            null,
            new MailSettings("127.0.0.1", _mail.Port, null, null, "practice@backhistory.invalid", "backhistory.invalid", "."),
            Demo: false,
            PublicUrl: null
        );
        var (horses, reminders, practices) = (_store.Horses, _store.Reminders, new PracticeQueries(_store.Store));
        var seal = new EphemeralDataProtectionProvider();
        var links = new AnswerLinks(seal, settings, new LetterReaders(practices, reminders), new SharedLinks(seal, settings));
        var about = new HorseLetters(
            new HorseData(horses, reminders, practices, new Progress(_store.Whole), _time),
            horses,
            practices,
            new BackHistory.Store.Notes.NoteQueries(_store.Store),
            links,
            new MailSender(settings),
            _time
        );
        var writer = new LetterWriter(
            about,
            new DigestLetters(reminders, practices, new BackHistory.Store.Notes.NoteQueries(_store.Store), links),
            reminders,
            practices,
            links,
            _time
        );
        return new LetterJob(
            new KnownPractices(_store.Whole),
            new LetterPost(
                reminders,
                practices,
                writer,
                new FirstLetters(reminders, practices),
                new LetterRecord(_store.Commands, _time),
                _store.Get<ArchiveIntake>(),
                new MailSender(settings),
                new AdvisoryLocks(_store.Database),
                _time,
                NullLogger<LetterPost>.Instance
            )
        );
    }
}
