using System.Collections.Concurrent;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Jobs;
using BackHistory.Service.Reminders;
using BackHistory.Service.Trends;
using BackHistory.Testing;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>Many letters through a mail server that fails three times in ten, dies with letters in its hands, and takes the service with it.</summary>
public sealed class StormyMailTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private const int Owners = 120;
    private static readonly DateTimeOffset Spring = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private readonly FixedTime _time = new(Spring);
    private readonly ConcurrentDictionary<string, ConcurrentBag<MimeMessage>> _seen = new(StringComparer.Ordinal);
    private MailCatcher _mail = null!;
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync()
    {
        _mail = await MailCatcher.Start();
        _store = await PracticeStore.Open();
        await _store.Found(Practice, Spring.AddYears(-1));
        var yard = new TestYard(_store, Practice);
        for (var i = 0; i < Owners; i++)
        {
            var owner = new Person(DeterministicId.Of("owner", $"{i}"), $"Owner {i}", $"owner{i}@people.invalid", null, null, PersonRole.Owner, i % 3 == 0 ? "de" : "en");
            await new PracticeQueries(_store.Store).Save(Practice, [owner], CancellationToken.None);
            var horse = await yard.Horse(Spring.AddDays(-200), $"Horse {i}", owner.Id);
            var id = ReminderIds.Of(Practice, horse, null, ReminderRule.NoVisit, 0);
            var evidence = new Evidence(new DateOnly(2026, 3, 2), 1, null, null, null, null, null, null, null, null, new DateOnly(2026, 3, 1), $"Horse {i} has not been measured yet.");
            await yard.Do<Reminder>(id, Spring, r => ReminderDecider.Decide(r, new RaiseReminder(id, horse, null, ReminderRule.NoVisit, evidence, [new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.OwnerCheck, owner.Id), LetterKind.OwnerCheck, owner.Id)], Guid.Empty), Spring));
        }

        await _store.CatchUp();
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        await _mail.DisposeAsync();
    }

    [Fact]
    public async Task Every_intent_reaches_its_reader_under_one_message_id_and_always_with_the_same_words()
    {
        var random = new Random(20261125);
        var (putOff, hungUp, killed, runs) = (0, 0, 0, 0);
        CancellationTokenSource? life = null;
        _mail.Mood = letter =>
        {
            var dice = random.NextDouble();
            if (dice < 0.15)
            {
                putOff++;
                return MailManner.PutsOff;
            }

            // From here on the server has the letter, whatever the service gets to know.
            _seen.GetOrAdd(letter.MessageId!, _ => []).Add(letter);
            if (dice < 0.25)
            {
                hungUp++;
                return MailManner.HangsUp;
            }

            if (dice < 0.30)
            {
                killed++;
                life!.Cancel();
            }

            return MailManner.Accepts;
        };

        var owed = await _store.Reminders.Owed(Practice, 1000, CancellationToken.None);
        Assert.Equal(Owners, owed.Count);
        while ((await _store.Reminders.Owed(Practice, 1, CancellationToken.None)).Count > 0)
        {
            Assert.True(++runs < 500, "letters are still owed after 500 runs");
            using var fresh = life = new CancellationTokenSource();
            try
            {
                await Job().Run(Practice, fresh.Token);
            }
            catch (OperationCanceledException)
            {
                // Killed with a letter under way; the next run is another process.
            }

            _time.Now += TimeSpan.FromMinutes(2);
        }

        Assert.True(putOff > 5 && hungUp > 5 && killed > 2, $"put off {putOff}, hung up {hungUp}, killed {killed}: no storm");
        foreach (var letter in owed)
        {
            var copies = _seen.GetValueOrDefault($"{letter.Id:N}@backhistory.invalid");
            Assert.True(copies is { IsEmpty: false }, $"letter {letter.Id} never arrived");
            Assert.Single(copies.Select(c => (c.Subject, c.TextBody, c.HtmlBody, c.Date, To: c.To.ToString())).Distinct());
            Assert.Equal(LetterState.Sent, (await _store.Reminders.Letter(Practice, letter.Id, CancellationToken.None))!.State);
        }

        Assert.Equal(Owners, _seen.Count);
        TestContext.Current.TestOutputHelper?.WriteLine($"{Owners} letters, {_seen.Values.Sum(c => c.Count)} copies, {putOff} put off, {hungUp} hung up, {killed} killed, {runs} runs");
    }

    /// <summary>As a process that was just started has it: nothing is remembered but what is written down.</summary>
    private LetterJob Job()
    {
        var settings = new Settings(
            "http://127.0.0.1:0", ".", null, new MailSettings("127.0.0.1", _mail.Port, null, null, "practice@backhistory.invalid", "backhistory.invalid", "."), Demo: false, PublicUrl: null);
        var (horses, reminders, practices) = (_store.Horses, _store.Reminders, new PracticeQueries(_store.Store));
        var links = new AnswerLinks(new EphemeralDataProtectionProvider(), settings);
        var about = new HorseLetters(new HorseData(horses, reminders, practices, _time), horses, practices, links, settings, _time);
        var writer = new LetterWriter(about, new BulletinLetters(reminders, practices, settings), reminders, practices, links, _time);
        return new LetterJob(
            reminders, practices, writer, new ReaderClock(practices, _time), new LetterRecord(_store.Commands, _time), new Postman(settings), _store.Database, _time, NullLogger<LetterJob>.Instance);
    }
}
