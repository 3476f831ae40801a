using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Accounts;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>Owners move and cancel their visits by the link of a letter: nobody takes an hour that somebody else has, and the practice is
/// told once.</summary>
public sealed class OwnVisitTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    /// <summary>Two weeks from the clock's Monday, at ten.</summary>
    private static readonly DateTimeOffset Booked = new(2026, 3, 17, 10, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task Of_two_owners_who_choose_one_hour_of_one_fitter_one_gets_it_and_the_other_keeps_what_they_had()
    {
        for (var round = 0; round < 6; round++)
        {
            var practice = await acts.Found($"one hour {round}");
            var fitter = await practice.Person("Anna Ford", PersonRole.Fitter);
            var visits = new List<(Guid Reminder, Guid Owner)>();
            foreach (var (name, days) in new[] { ("Bramble", 0), ("Juniper", 1), ("Walnut", 2), ("Hazel", 3) })
                visits.Add(await Visit(practice, name, Booked.AddDays(days), fitter));
            await acts.Store.CatchUp();
            var to = (await Offered(practice, visits[0])).Intersect(await Offered(practice, visits[1])).Last();

            var outcomes = await Task.WhenAll(
                visits.Select(v => Task.Run(() => acts.Get<MoveOwnVisit>().ByLetter(practice.Name, new(v.Reminder, v.Owner, to), default)))
            );

            Assert.Single(outcomes, o => o.Refused is null);
            Assert.Equal(3, outcomes.Count(o => o.Refused?.Code == "not-offered"));
            var after = new List<Reminder>();
            foreach (var (reminder, _) in visits)
                after.Add(await practice.Reminder(reminder));
            Assert.Single(after, r => r.BookedFor == to);
            Assert.All(after, r => Assert.Equal(ReminderState.Booked, r.State));
            // Whoever came second finds other hours.
            var late = visits[Array.FindIndex(outcomes, o => o.Refused is not null)];
            var others = await Offered(practice, late);
            Assert.NotEmpty(others);
            Assert.DoesNotContain(to, others);
        }
    }

    [Fact]
    public async Task A_moved_visit_is_told_to_its_reader_and_to_whoever_goes_and_acts_each_once()
    {
        var practice = await acts.Found("moved and told");
        var fitter = await practice.Person("Anna Ford", PersonRole.Fitter);
        var manager = await practice.Person("Mo Green", PersonRole.Manager);
        var visit = await Visit(practice, "Bramble", Booked, fitter);
        await acts.Store.CatchUp();
        var to = (await Offered(practice, visit))[0];
        var move = acts.Get<MoveOwnVisit>();
        Assert.Null((await move.ByLetter(practice.Name, new(visit.Reminder, visit.Owner, to), default)).Refused);
        Assert.Null((await move.ByLetter(practice.Name, new(visit.Reminder, visit.Owner, to), default)).Refused);

        var staff = (await practice.Reminder(visit.Reminder)).Post.Where(l => l.Kind == LetterKind.VisitMoved);
        Assert.Equal(new[] { fitter, manager }.Order(), staff.Select(l => l.To).Order());
        await Sent(practice);
        var letter = Assert.Single(SentTo(fitter));
        Assert.Equal("Bramble: the owner moved the visit", letter.Subject);
        Assert.Contains("Owner of Bramble has moved the visit to Bramble from Tuesday, 17 Mar 2026, 10:00 to", Unwrapped(letter));
        Assert.Single(SentTo(manager));
        Assert.Contains(
            "The visit has moved: we come to Bramble on",
            Unwrapped(Assert.Single(SentTo(visit.Owner), l => l.Calendar is not null))
        );
    }

    [Fact]
    public async Task Moved_twice_before_a_letter_left_the_practice_reads_where_it_is_now_alone()
    {
        var practice = await acts.Found("moved twice");
        var fitter = await practice.Person("Anna Ford", PersonRole.Fitter);
        var visit = await Visit(practice, "Bramble", Booked, fitter);
        await acts.Store.CatchUp();
        foreach (var nth in new[] { 0, ^1 })
        {
            var to = (await Offered(practice, visit))[nth];
            Assert.Null((await acts.Get<MoveOwnVisit>().ByLetter(practice.Name, new(visit.Reminder, visit.Owner, to), default)).Refused);
        }

        await Sent(practice);
        var now = (await practice.Reminder(visit.Reminder)).BookedFor!.Value;
        Assert.Contains($"{now:HH:mm}", Unwrapped(Assert.Single(SentTo(fitter))));
    }

    [Fact]
    public async Task A_cancelled_visit_opens_its_reminder_with_the_answer_and_everybody_concerned_is_told()
    {
        var practice = await acts.Found("cancelled");
        var fitter = await practice.Person("Anna Ford", PersonRole.Fitter);
        var manager = await practice.Person("Mo Green", PersonRole.Manager);
        var visit = await Visit(practice, "Bramble", Booked, fitter);
        var cancel = new CancelOwnVisit.Input(visit.Reminder, visit.Owner, "We are away. April suits.");
        Assert.Null((await acts.Get<CancelOwnVisit>().ByLetter(practice.Name, cancel, default)).Refused);
        // Pressed twice, it is cancelled and told once.
        Assert.Null((await acts.Get<CancelOwnVisit>().ByLetter(practice.Name, cancel, default)).Refused);

        var open = await practice.Reminder(visit.Reminder);
        Assert.Equal((ReminderState.Open, Answer.Cancelled, null), (open.State, open.Answer!.Value, open.BookedFor));
        var words = await acts.Get<NoteQueries>().Load(practice.Name, [open.AnswerNote!.Value], default);
        Assert.Equal("We are away. April suits.", Assert.Single(words).Words);
        await acts.Store.CatchUp();
        await Sent(practice);
        var told = Assert.Single(SentTo(fitter));
        Assert.Equal("Bramble: the owner cancelled the visit", told.Subject);
        Assert.Contains("Owner of Bramble has cancelled the visit to Bramble on Tuesday, 17 Mar 2026 at 10:00.", Unwrapped(told));
        Assert.Contains("We are away. April suits.", Unwrapped(told));
        Assert.Single(SentTo(manager));
        var owner = Assert.Single(SentTo(visit.Owner), l => l.Calendar is not null);
        Assert.Equal("CANCEL", owner.Calendar?.Method);
        Assert.Contains("The visit to Bramble on Tuesday, 17 Mar 2026 at 10:00 will not take place.", Unwrapped(owner));

        // Another visit is another matter: what was cancelled is no answer to it.
        var again = new ArrangeVisit.Input(visit.Reminder, practice.Id("again"), Booked.AddDays(7), fitter, Tell: false);
        Assert.Null((await acts.Get<ArrangeVisit>().Do(again, practice.By(PracticeRole.Fitter), default)).Refused);
        Assert.Null((await practice.Reminder(visit.Reminder)).Answer);
    }

    [Fact]
    public async Task Nobody_cancels_a_visit_of_a_horse_that_is_not_theirs_any_more_or_one_that_has_begun()
    {
        var practice = await acts.Found("not theirs");
        var fitter = await practice.Person("Anna Ford", PersonRole.Fitter);
        var visit = await Visit(practice, "Bramble", Booked, fitter);
        var stranger = await practice.Person("Former Owner", PersonRole.Owner);
        var cancel = acts.Get<CancelOwnVisit>();
        Assert.Equal("not-booked", (await cancel.ByLetter(practice.Name, new(visit.Reminder, stranger, null), default)).Refused?.Code);
        acts.Time.Now = Booked.AddMinutes(1);
        try
        {
            Assert.Equal("begun", (await cancel.ByLetter(practice.Name, new(visit.Reminder, visit.Owner, null), default)).Refused?.Code);
        }
        finally
        {
            acts.Time.Now = PracticeActs.Began;
        }

        Assert.Equal(Booked, (await practice.Reminder(visit.Reminder)).BookedFor);
    }

    [Theory]
    [InlineData(23, false)]
    [InlineData(1, true)]
    public async Task At_night_the_practice_is_told_of_a_cancelled_visit_only_when_it_is_near(int daysAhead, bool leaves)
    {
        var practice = await acts.Found($"night {daysAhead}");
        var fitter = await practice.Person("Anna Ford", PersonRole.Fitter);
        var night = new DateTimeOffset(2026, 3, 10, 23, 30, 0, TimeSpan.Zero);
        var visit = await Visit(practice, "Bramble", night.AddDays(daysAhead).AddHours(-2), fitter);
        acts.Time.Now = night;
        try
        {
            Assert.Null(
                (await acts.Get<CancelOwnVisit>().ByLetter(practice.Name, new(visit.Reminder, visit.Owner, null), default)).Refused
            );
            var rules = (await acts.Get<PracticeQueries>().Load(practice.Name, default))!;
            rules = rules with { ReminderRules = rules.ReminderRules with { Letters = new LetterSetting() } };
            var reminder = await practice.Reminder(visit.Reminder);
            var trail = Assert.Single(reminder.Post, l => l.Kind == LetterKind.VisitCancelled);
            var letter = (await acts.Store.Reminders.Letter(practice.Name, trail.LetterId, default))!;
            var reader = await acts.Get<PracticeQueries>().Person(practice.Name, fitter, default);
            Assert.Equal(leaves, LetterGate.Judge(rules, letter, reminder, reader, null, true, night).MayLeave);
            var stopped = reader! with { Stopped = [LetterKind.VisitCancelled] };
            Assert.NotNull(LetterGate.Judge(rules, letter, reminder, stopped, null, true, night.AddHours(12)).Why);
        }
        finally
        {
            acts.Time.Now = PracticeActs.Began;
        }
    }

    private async Task<(Guid Reminder, Guid Owner)> Visit(TestPractice practice, string horse, DateTimeOffset at, Guid fitter)
    {
        var owner = await practice.Person($"Owner of {horse}", PersonRole.Owner);
        var (reminder, _) = await practice.NeverMeasured(horse, owner, acts.Time.Now);
        var booking = new ArrangeVisit.Input(reminder, practice.Id($"visit {horse}"), at, fitter, Tell: true);
        Assert.Null((await acts.Get<ArrangeVisit>().Do(booking, practice.By(PracticeRole.Fitter), default)).Refused);
        return (reminder, owner);
    }

    private async Task<IReadOnlyList<DateTimeOffset>> Offered(TestPractice practice, (Guid Reminder, Guid Owner) visit) =>
        (await acts.Get<OfferedTimes>().For(practice.Name, await practice.Reminder(visit.Reminder), visit.Owner, default))!;

    private async Task Sent(TestPractice practice)
    {
        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);
    }

    /// <summary>Plain text breaks its lines where they get long.</summary>
    private static string Unwrapped(LetterContent letter) => letter.Text.ReplaceLineEndings(" ");

    private List<LetterContent> SentTo(Guid person) => [.. acts.Mail.Sent.Where(l => l.ToAddress == $"{person:N}@people.invalid")];
}
