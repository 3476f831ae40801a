using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Notes;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>That a vet has cleared a horse lets letters leave again: it is taken with the words it rests on.</summary>
public sealed class NoteVetClearanceTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task It_is_refused_without_words_and_with_them_the_caution_is_over_everywhere()
    {
        var practice = await acts.Found("cleared");
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-20), "Bramble");
        var id = ReminderIds.IdFor(practice.Name, horse, null, ReminderRule.VetCaution, 0);
        var day = ZoneClock.Day(acts.Time.Now, TimeZoneInfo.Utc);
        var evidence = Evidence.WithoutMeasure(day, 1, day, "Hollower on one side.");
        var raise = new RaiseReminder(id, horse, null, ReminderRule.VetCaution, evidence, [], Guid.Empty);
        await practice.Yard.Do<Reminder>(id, acts.Time.Now, r => ReminderDecider.Decide(r, raise, acts.Time.Now));

        Assert.Equal("no-words", (await Clear(" ")).Refused?.Code);
        Assert.Equal(ReminderState.Open, (await practice.Reminder(id)).State);
        Assert.Null((await Clear("Vera Moss looked at it on Monday: sound.")).Refused);

        var over = await practice.Reminder(id);
        Assert.Equal((ReminderState.Done, Answer.VetHasSeen), (over.State, over.Answer));
        var note = Assert.Single(await acts.Get<NoteQueries>().Load(practice.Name, [over.AnswerNote!.Value], default));
        Assert.Equal("Vera Moss looked at it on Monday: sound.", note!.Words);
        await acts.Store.CatchUp();
        Assert.Empty((await acts.Get<HorseQueries>().Profile(practice.Name, horse, default))!.Reminders);

        Task<Outcome> Clear(string words) => acts.Get<NoteVetClearance>().Do(new(id, words), practice.By(PracticeRole.Fitter), default);
    }
}
