using System.Collections.Concurrent;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Testing;
using MimeKit;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>Many letters through a mail server that fails three times in ten, dies with letters in its hands, and takes the service with
/// it.</summary>
public sealed class StormyMailTests : IAsyncLifetime
{
    private const string Practice = PracticePost.Practice;
    private const int Owners = 120;
    private static readonly DateTimeOffset Spring = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private readonly FixedTime _time = new(Spring);
    private readonly ConcurrentDictionary<string, ConcurrentBag<MimeMessage>> _seen = new(StringComparer.Ordinal);
    private MailCatcher _mail = null!;
    private PracticeStore _store = null!;
    private PracticePost _post = null!;

    public async ValueTask InitializeAsync()
    {
        _mail = await MailCatcher.Start();
        _store = await PracticeStore.Open();
        await _store.Found(Practice, Spring.AddYears(-1));
        var yard = new TestYard(_store, Practice);
        _post = new PracticePost(
            _store,
            _time,
            new MailSettings("127.0.0.1", _mail.Port, null, null, "practice@backhistory.invalid", "backhistory.invalid", ".")
        );
        await _post.Known();
        for (var i = 0; i < Owners; i++)
            await PracticePost.NeverMeasured(
                yard,
                $"Horse {i}",
                await _post.Person($"Owner {i}", PersonRole.Owner, i % 3 == 0 ? "de" : "en"),
                Spring
            );
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
                await _post.Job().Run(Practice, fresh.Token);
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
        TestContext.Current.TestOutputHelper?.WriteLine(
            $"{Owners} letters, {_seen.Values.Sum(c => c.Count)} copies, {putOff} put off, {hungUp} hung up, {killed} killed, {runs} runs"
        );
    }
}
