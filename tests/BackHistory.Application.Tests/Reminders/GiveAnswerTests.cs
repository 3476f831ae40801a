using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Notes;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>What an owner answers, and what becomes of it when they change their mind.</summary>
public sealed class GiveAnswerTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    /// <summary>A day and a half on: by the practice's clock it is another day.</summary>
    private static readonly TimeSpan AWhile = TimeSpan.FromHours(36);

    [Fact]
    public async Task Later_then_book_then_later_again_is_heard_each_time_and_later_leaves_its_day()
    {
        var practice = await acts.Found("changes their mind");
        acts.Time.Now = PracticeActs.Began;
        var owner = await practice.Person("Owner", PersonRole.Owner);
        var (id, _) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);

        Assert.Null((await Answered(practice, id, Answer.Later)).Refused);
        Assert.Equal((Answer.Later, new DateOnly(2026, 3, 23), ReminderState.PutOff), await Stands());
        acts.Time.Now += AWhile;
        Assert.Null((await Answered(practice, id, Answer.Book)).Refused);
        Assert.Equal((Answer.Book, ReminderState.Open), await Stands() is var (a, _, s) ? (a, s) : default);
        acts.Time.Now += AWhile;
        var again = await Answered(practice, id, Answer.Later);
        Assert.Equal((null, false), (again.Refused, again.Repeated));
        Assert.Equal((Answer.Later, new DateOnly(2026, 3, 26), ReminderState.PutOff), await Stands());

        async Task<(Answer?, DateOnly?, ReminderState)> Stands() =>
            await practice.Reminder(id) is var r ? (r.Answer, r.PutOffUntil, r.State) : default;
    }

    [Fact]
    public async Task A_button_pressed_twice_is_one_answer()
    {
        var practice = await acts.Found("pressed twice");
        var (id, _) = await practice.NeverMeasured("Bramble", await practice.Person("Owner", PersonRole.Owner), acts.Time.Now);

        await Answered(practice, id, Answer.Book);
        var once = (await practice.Reminder(id)).Version;
        var twice = await Answered(practice, id, Answer.Book);

        Assert.Null(twice.Refused);
        Assert.Equal(once, (await practice.Reminder(id)).Version);
    }

    [Fact]
    public async Task Words_said_with_an_answer_lie_beside_it_where_they_can_be_erased()
    {
        var practice = await acts.Found("words beside");
        var (id, _) = await practice.NeverMeasured("Bramble", await practice.Person("Owner", PersonRole.Owner), acts.Time.Now);

        var given = new GiveAnswer.Input(id, Answer.Book, "After Easter, please.");
        Assert.Null((await acts.Get<GiveAnswer>().Do(given, practice.By(PracticeRole.Fitter), default)).Refused);

        var note = Assert.Single(
            await acts.Get<NoteQueries>().Load(practice.Name, [(await practice.Reminder(id)).AnswerNote!.Value], default)
        );
        Assert.Equal("After Easter, please.", note!.Words);
    }

    [Fact]
    public async Task A_reminder_of_another_practice_is_like_one_that_there_is_not()
    {
        var (mine, theirs) = (await acts.Found("answers of mine"), await acts.Found("answers of theirs"));
        var (id, _) = await theirs.NeverMeasured("Bramble", await theirs.Person("Owner", PersonRole.Owner), acts.Time.Now);

        var foreign = await Answered(mine, id, Answer.Book);
        var missing = await Answered(mine, mine.Id("no reminder"), Answer.Book);

        Assert.NotNull(foreign.Refused);
        Assert.Equal(missing.Refused, foreign.Refused);
        Assert.Null((await theirs.Reminder(id)).Answer);
    }

    [Fact]
    public async Task A_reminder_that_was_ended_takes_no_answer()
    {
        var practice = await acts.Found("ended");
        var (id, _) = await practice.NeverMeasured("Bramble", await practice.Person("Owner", PersonRole.Owner), acts.Time.Now);
        Assert.Null((await acts.Get<EndReminder>().Do(new(id, "Sold."), practice.By(PracticeRole.Fitter), default)).Refused);

        Assert.NotNull((await Answered(practice, id, Answer.Book)).Refused);

        Assert.Equal((ReminderState.Closed, null), await practice.Reminder(id) is var r ? (r.State, r.Answer) : default);
    }

    [Fact]
    public async Task A_letter_about_what_ended_by_mistake_is_answered_to_what_stands_for_it_now_and_to_nothing_where_nothing_does()
    {
        var practice = await acts.Found("ended by mistake");
        var owner = await practice.Person("Owner", PersonRole.Owner);
        var (id, _) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);
        await practice.Yard.Do<Reminder>(
            id,
            acts.Time.Now,
            r => ReminderDecider.Decide(r, new ResolveReminder(practice.Id("visit"), null, Guid.Empty), acts.Time.Now)
        );
        Assert.Null(await acts.Get<GiveAnswer>().Answerable(practice.Name, id, default));
        var before = await practice.Reminder(id);
        var again = ReminderIds.IdFor(practice.Name, before.HorseId, null, ReminderRule.NoVisit, 1);
        var raise = new RaiseReminder(again, before.HorseId, null, ReminderRule.NoVisit, before.Evidence, [], Guid.Empty);
        await practice.Yard.Do<Reminder>(again, acts.Time.Now, r => ReminderDecider.Decide(r, raise, acts.Time.Now));

        var given = new GiveAnswer.Input(id, Answer.NotNeeded, "Sold to another yard.");
        Assert.Null((await acts.Get<GiveAnswer>().ByLetter(practice.Name, given, default)).Refused);

        Assert.Equal(Answer.NotNeeded, (await practice.Reminder(again)).Answer);
        Assert.Null((await practice.Reminder(id)).Answer);
    }

    private Task<History.Outcome> Answered(TestPractice practice, Guid reminder, Answer answer) =>
        acts.Get<GiveAnswer>().ByLetter(practice.Name, new(reminder, answer, null), default);
}
