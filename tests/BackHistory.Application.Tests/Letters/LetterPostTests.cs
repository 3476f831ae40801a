using BackHistory.Application.Letters;
using BackHistory.Application.Practices;
using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Letters;

/// <summary>Letters that are owed leave, one after another, and what goes wrong with one is that one's.</summary>
public sealed class LetterPostTests : IAsyncLifetime
{
    private readonly PracticeActs _acts = new();

    public ValueTask InitializeAsync() => _acts.InitializeAsync();

    public ValueTask DisposeAsync() => _acts.DisposeAsync();

    [Fact]
    public async Task A_letter_that_is_put_off_does_not_hold_back_the_others_and_leaves_later_with_the_same_words()
    {
        var (practice, letters) = await Owed("put off", 3);
        var tried = new List<LetterContent>();
        var busy = true;
        _acts.Mail.Taking = letter =>
        {
            if (letter.Id != letters[1])
                return;
            tried.Add(letter);
            if (busy)
                throw new MailRefusedException(451, final: false, new IOException("try later"));
        };

        await Sent(practice);
        Assert.Equal([letters[0], letters[2]], _acts.Mail.Sent.Select(l => l.Id));
        Assert.Equal([LetterState.Sent, LetterState.Deferred, LetterState.Sent], await States(practice, letters));

        // Within its pause nobody is asked again, though the way is free by now.
        busy = false;
        await Sent(practice);
        Assert.Single(tried);
        _acts.Time.Now += TimeSpan.FromMinutes(5);
        await Sent(practice);

        Assert.Equal(2, tried.Count);
        Assert.Equal((tried[0].Subject, tried[0].Text, tried[0].ComposedAt), (tried[1].Subject, tried[1].Text, tried[1].ComposedAt));
        Assert.Equal([LetterState.Sent, LetterState.Sent, LetterState.Sent], await States(practice, letters));
        Assert.Equal(3, _acts.Mail.Sent.Count);
    }

    [Fact]
    public async Task A_letter_that_is_refused_for_good_is_given_up_with_its_reason_and_not_tried_again()
    {
        var (practice, letters) = await Owed("refused", 2);
        var tried = 0;
        _acts.Mail.Taking = letter =>
        {
            if (letter.Id != letters[0])
                return;
            tried++;
            throw new MailRefusedException(550, final: true, new IOException("no such mailbox"));
        };

        await Sent(practice);
        _acts.Time.Now += TimeSpan.FromDays(2);
        await Sent(practice);

        Assert.Equal(1, tried);
        Assert.Equal([LetterState.GivenUp, LetterState.Sent], await States(practice, letters));
        var why = (await _acts.Store.Reminders.Letter(practice.Name, letters[0], default))!.Through;
        Assert.Equal("The mail server refused it: 550.", why);
    }

    [Fact]
    public async Task A_letter_that_cannot_be_written_fails_alone_and_is_given_up_in_the_end()
    {
        var (practice, letters) = await Owed("unwritable", 2);
        _acts.Mail.Taking = letter =>
        {
            if (letter.Id == letters[0])
                throw new FormatException("no letter");
        };

        for (var attempt = 0; attempt < LetterAttempts.Most; attempt++)
        {
            await Sent(practice);
            Assert.Equal(
                attempt + 1 < LetterAttempts.Most ? LetterState.Deferred : LetterState.GivenUp,
                (await States(practice, letters))[0]
            );
            _acts.Time.Now += TimeSpan.FromHours(5);
        }

        Assert.Equal([letters[1]], _acts.Mail.Sent.Select(l => l.Id));
    }

    [Fact]
    public async Task While_no_letter_gets_through_all_of_them_wait_and_none_has_failed()
    {
        var (practice, letters) = await Owed("unreachable", 2);
        var closed = true;
        _acts.Mail.Taking = _ =>
        {
            if (closed)
                throw new MailUnreachableException(new IOException("nobody answers"));
        };

        await Sent(practice);
        Assert.Equal([LetterState.Owed, LetterState.Owed], await States(practice, letters));
        Assert.Null(await _acts.Store.Reminders.Attempts(practice.Name, letters[0], default));

        closed = false;
        await Sent(practice);
        Assert.Equal(letters, _acts.Mail.Sent.Select(l => l.Id));
    }

    [Fact]
    public async Task Who_stopped_letters_of_a_kind_by_the_link_in_one_gets_no_further_one()
    {
        var practice = await _acts.Found("stopped");
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var (_, first) = await practice.NeverMeasured("Bramble", owner, _acts.Time.Now);
        await Sent(practice);
        await _acts.Get<StopLetters>().ByLetter(practice.Name, new(owner, LetterKind.OwnerCheck), default);
        await _acts.Get<StopLetters>().ByLetter(practice.Name, new(owner, LetterKind.OwnerCheck), default);

        var (_, second) = await practice.NeverMeasured("Thistle", owner, _acts.Time.Now);
        await Sent(practice);

        Assert.Equal([first], _acts.Mail.Sent.Select(l => l.Id));
        Assert.Equal([LetterState.Sent, LetterState.GivenUp], await States(practice, [first, second]));
        Assert.Equal([LetterKind.OwnerCheck], (await _acts.Get<PracticeQueries>().Person(practice.Name, owner, default))!.Stopped);
    }

    /// <summary>Half past midnight on 2 June in Berlin is the evening of 1 June in Greenwich.</summary>
    [Fact]
    public async Task A_letter_about_silence_says_the_day_of_the_unanswered_one_as_its_readers_clock_showed_it()
    {
        var practice = await _acts.Found("silence");
        var (owner, manager) = (
            await practice.Person("Robin Field", PersonRole.Owner),
            await practice.Person("Kim Lea", PersonRole.Manager)
        );
        await _acts
            .Get<CorrectPracticeDetails>()
            .Do(new("Berlin", "Europe/Berlin", "We moved."), practice.By(PracticeRole.Manager), default);
        var night = new DateTimeOffset(2026, 6, 1, 22, 30, 0, TimeSpan.Zero);
        var (reminder, letter) = await practice.NeverMeasured("Bramble", owner, night.AddHours(-1));
        var sent = new NoteLetterSent(letter, "id", "nowhere", Guid.Empty);
        await practice.Yard.Do<Reminder>(reminder, night, r => ReminderDecider.Decide(r, sent, night));
        await _acts.Store.CatchUp();

        var silent = new Letter
        {
            Id = practice.Id("silent"),
            Kind = LetterKind.NoAnswer,
            To = manager,
            ReminderId = reminder,
        };
        var (content, why) = await _acts.Get<LetterWriter>().Compose(practice.Name, silent, default);
        Assert.Null(why);
        Assert.Contains("on 2 Jun 2026", content!.Text.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_practices_first_letters_wait_until_somebody_lets_them_go()
    {
        var practice = await _acts.Found("first letters", lettersLeave: false);
        // A working hour of a Tuesday: no quiet time hides what is asked here.
        _acts.Time.Now = PracticeActs.Began.AddDays(1).AddHours(2);
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var (_, letter) = await practice.NeverMeasured("Bramble", owner, _acts.Time.Now);

        await Sent(practice);
        Assert.Empty(_acts.Mail.Sent);
        Assert.Equal([letter], (await _acts.Get<FirstLetters>().Waiting(practice.Name, default)).Select(l => l.Id));

        var released = await _acts.Get<ReleaseFirstLetters>().Do(practice.By(PracticeRole.Manager), default);
        Assert.Null(released.Refused);
        await Sent(practice);
        Assert.Equal([letter], _acts.Mail.Sent.Select(l => l.Id));
    }

    [Fact]
    public async Task A_letter_whose_reminder_was_ended_before_it_left_is_not_needed_any_more()
    {
        var (practice, letters) = await Owed("ended before it left", 1);
        var reminder = (await _acts.Store.Reminders.Letter(practice.Name, letters[0], default))!.ReminderId!.Value;
        Assert.Null((await _acts.Get<EndReminder>().Do(new(reminder, "Sold."), practice.By(PracticeRole.Fitter), default)).Refused);

        await Sent(practice);

        Assert.Empty(_acts.Mail.Sent);
        Assert.Equal([LetterState.GivenUp], await States(practice, letters));
    }

    [Fact]
    public async Task A_report_that_a_letter_came_back_is_written_down_with_it_in_the_practice_that_wrote_it()
    {
        var (practice, letters) = await Owed("came back", 1);
        var other = await _acts.Found("not theirs");
        await Sent(practice);
        var report = new TakeDeliveryReport.Input(letters[0], DeliveryWord.Bounced, "5.1.1");

        Assert.NotNull((await _acts.Get<TakeDeliveryReport>().Do(report, other.By(PracticeRole.Fitter), default)).Refused);
        Assert.Equal([LetterState.Sent], await States(practice, letters));
        Assert.Null((await _acts.Get<TakeDeliveryReport>().Do(report, practice.By(PracticeRole.Fitter), default)).Refused);
        Assert.Equal([LetterState.Bounced], await States(practice, letters));
    }

    /// <summary>Letters to that many owners, the oldest first.</summary>
    private async Task<(TestPractice Practice, IReadOnlyList<Guid> Letters)> Owed(string name, int count)
    {
        var practice = await _acts.Found(name);
        var letters = new List<Guid>();
        for (var i = 0; i < count; i++)
        {
            var owner = await practice.Person($"Owner {i}", PersonRole.Owner);
            letters.Add((await practice.NeverMeasured($"Horse {i}", owner, _acts.Time.Now.AddMinutes(i - count))).Letter);
        }

        return (practice, letters);
    }

    private async Task Sent(TestPractice practice)
    {
        await _acts.Store.CatchUp();
        await _acts.Get<LetterPost>().Send(practice.Name, default);
        await _acts.Store.CatchUp();
    }

    private async Task<IReadOnlyList<LetterState>> States(TestPractice practice, IReadOnlyList<Guid> letters)
    {
        await _acts.Store.CatchUp();
        var states = new List<LetterState>();
        foreach (var letter in letters)
            states.Add((await _acts.Store.Reminders.Letter(practice.Name, letter, default))!.State);
        return states;
    }
}
