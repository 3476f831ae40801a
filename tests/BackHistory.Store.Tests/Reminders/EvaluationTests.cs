using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Testing;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Store.Tests.Reminders;

public sealed class EvaluationTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset January = new(2026, 1, 10, 9, 0, 0, TimeSpan.Zero);
    private static readonly Guid Owner = DeterministicId.From("owner");
    private readonly FixedTime _time = new(January);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;
    private Guid _horse;
    private Guid _saddle;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Practice);
        await _store.Found(Practice, January);
        _horse = await _yard.Horse(January, owner: Owner);
        _saddle = await _yard.Saddle(January);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task Two_services_on_one_database_share_a_practices_horses_and_miss_none()
    {
        for (var i = 0; i < 80; i++)
            await _yard.Horse(January, $"Horse {i}");
        await _store.CatchUp();
        await using var other = await PracticeStore.Open(_store.OwnerConnection);

        var looked = await Task.WhenAll(
            Enumerable
                .Range(0, 4)
                .Select(n => Task.Run(() => (n % 2 == 0 ? _store : other).EvaluationAt(_time).Run(Practice, CancellationToken.None)))
        );
        // All of the eighty, and the one that every test has.
        Assert.Equal(81, looked.Sum());
        Assert.Equal(0, await _store.EvaluationAt(_time).Run(Practice, CancellationToken.None));
    }

    [Fact]
    public async Task A_saddle_set_in_June_is_due_when_both_shoulders_open_by_twelve_degrees()
    {
        await FittedInJune();
        await _yard.Visit(_horse, June(90), 33, 33);
        await Evaluate(June(90));

        var reminder = Assert.Single(await Reminders());
        Assert.Equal(ReminderRule.ShapeChanged, reminder.Rule);
        Assert.Equal(ReminderState.Open, reminder.State);
        Assert.True(reminder.Evidence.P >= 0.8, $"p was {reminder.Evidence.P}");
        var letter = Assert.Single(await _store.Reminders.Owed(Practice, 10, CancellationToken.None));
        Assert.Equal(Owner, letter.To);
    }

    [Fact]
    public async Task A_horse_that_kept_its_shape_raises_nothing()
    {
        await FittedInJune();
        await _yard.Visit(_horse, June(60), 45.3, 44.8);
        await Evaluate(June(60));

        Assert.Empty(await Reminders());
        Assert.Equal(WatchState.Steady, (await Assessment()).State);
    }

    [Fact]
    public async Task Evaluating_again_and_again_and_after_a_kill_before_the_last_step_raises_one_reminder()
    {
        await FittedInJune();
        await _yard.Visit(_horse, June(90), 33, 33);
        await Evaluate(June(90));
        await Evaluate(June(90));
        await ForgetAssessment();
        await Evaluate(June(90));
        await Task.WhenAll(
            Enumerable.Range(0, 4).Select(_ => Task.Run(() => _store.EvaluationAt(_time).Run(Practice, CancellationToken.None)))
        );

        Assert.Single(await Reminders());
        Assert.Single(await _store.Reminders.Owed(Practice, 10, CancellationToken.None));
    }

    [Fact]
    public async Task A_kill_before_the_horse_was_recorded_as_looked_at_still_ends_in_one_reminder()
    {
        await FittedInJune();
        await _yard.Visit(_horse, June(90), 33, 33);
        _time.Now = June(90);
        await _store.CatchUp();
        using var killed = new CancellationTokenSource();
        killed.Cancel();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => _store.EvaluationAt(_time).Run(Practice, killed.Token));
        await Evaluate(June(90));

        Assert.Single(await Reminders());
    }

    [Fact]
    public async Task Setting_the_saddle_anew_resolves_the_reminder()
    {
        await FittedInJune();
        var visit = await _yard.Visit(_horse, June(90), 33, 33);
        await Evaluate(June(90));
        var work = await _yard.Set(_saddle, _horse, visit, June(91));
        await Evaluate(June(92));

        Assert.Equal(ReminderState.Done, Assert.Single(await Reminders()).State);
        Assert.Equal(work, Assert.Single((await Assessment()).Saddles).WorkId);
    }

    [Fact]
    public async Task A_reminder_whose_visit_is_withdrawn_is_withdrawn_too_and_says_so_to_whoever_was_told()
    {
        await FittedInJune();
        var wrong = await _yard.Visit(_horse, June(90), 33, 33);
        await Evaluate(June(90));
        var reminder = Assert.Single(await Reminders());
        var letter = Assert.Single(reminder.Letters).Key;
        await _yard.Do<Reminder>(
            reminder.Id,
            June(90),
            r => ReminderDecider.Decide(r, new NoteLetterSent(letter, "m", "folder", Guid.Empty), June(90))
        );
        await _yard.Withdraw(_horse, wrong, June(91));
        await Evaluate(June(91));

        Assert.Equal(ReminderState.Withdrawn, Assert.Single(await Reminders()).State);
        var told = Assert.Single(await _store.Reminders.Owed(Practice, 10, CancellationToken.None));
        Assert.Equal(LetterKind.GroundWithdrawn, told.Kind);
    }

    [Fact]
    public async Task A_check_that_a_visit_of_another_horse_ended_is_open_again_at_once_with_what_was_answered_and_booked()
    {
        await _yard.Visit(_horse, January, 45, 45);
        var due = January.AddDays(400);
        await Evaluate(due);
        var first = Assert.Single(await Reminders());
        await _yard.Do<Reminder>(first.Id, due, r => ReminderDecider.Decide(r, new AnswerReminder(Answer.Book, null, Owner), due));
        var wrong = await _yard.Visit(_horse, due.AddHours(3), 45, 45);
        await Evaluate(due.AddHours(3));
        Assert.Equal(ReminderState.Done, Assert.Single(await Reminders()).State);

        await _yard.Withdraw(_horse, wrong, due.AddHours(4));
        await Evaluate(due.AddHours(4));

        var again = Assert.Single(await Reminders(), r => !r.Over);
        Assert.Equal((ReminderRule.CheckDue, ReminderState.Open, Answer.Book), (again.Rule, again.State, again.Answer));
        // Who has answered is not asked once more.
        Assert.Empty(again.Post);
        var wanted = await _store
            .Get<PlanQueries>()
            .Wanted(
                Practice,
                ZoneClock.Day(due, TimeZoneInfo.Utc),
                ZoneClock.Day(due, TimeZoneInfo.Utc).AddDays(28),
                CancellationToken.None
            );
        Assert.Equal(again.Id, Assert.Single(wanted).ReminderId);
    }

    [Fact]
    public async Task A_booked_visit_stands_when_a_visit_of_an_earlier_day_is_entered_and_ends_by_one_of_its_own_day()
    {
        await _yard.Visit(_horse, January, 45, 45);
        var due = January.AddDays(400);
        await Evaluate(due);
        var reminder = Assert.Single(await Reminders());
        var on = due.AddDays(11);
        await _yard.Do<Reminder>(
            reminder.Id,
            due,
            r => ReminderDecider.Decide(r, new BookVisit(DeterministicId.From("b"), on, Owner, Owner), due)
        );
        await _yard.Visit(_horse, due.AddDays(1), 45, 45);
        await Evaluate(due.AddDays(1));
        Assert.Equal((ReminderState.Booked, on), Assert.Single(await Reminders()) is var r ? (r.State, r.BookedFor) : default);

        await _yard.Visit(_horse, on.AddHours(-2), 45, 45);
        await Evaluate(on.AddHours(-2));

        Assert.Equal(ReminderState.Done, Assert.Single(await Reminders()).State);
    }

    [Fact]
    public async Task Whoever_waits_hears_that_a_withdrawn_horse_is_not_visited_and_put_back_it_is_asked_for_again()
    {
        await _yard.Visit(_horse, January, 45, 45);
        var due = January.AddDays(400);
        await Evaluate(due);
        var reminder = Assert.Single(await Reminders());
        await _yard.Do<Reminder>(
            reminder.Id,
            due,
            r => ReminderDecider.Decide(r, new BookVisit(DeterministicId.From("b"), due.AddDays(11), Owner, Owner), due)
        );
        await _yard.Do<Horse>(
            _horse,
            due.AddHours(3),
            h => HorseDecider.Decide(h, new WithdrawHorse("By mistake.", Owner), due.AddHours(3))
        );
        await Evaluate(due.AddHours(3));

        var off = Assert.Single(await Reminders());
        Assert.Equal((ReminderState.Withdrawn, null, 1), (off.State, off.BookedFor, off.BookingSequence));
        Assert.Equal([Owner], off.Post.Where(l => l.Kind == LetterKind.BookingCancelled).Select(l => l.To));
        Assert.DoesNotContain(off.Post, l => l.Kind == LetterKind.GroundWithdrawn);

        await _yard.Do<Horse>(
            _horse,
            due.AddHours(4),
            h => HorseDecider.Decide(h, new RestoreHorse("It was another.", Owner), due.AddHours(4))
        );
        await Evaluate(due.AddHours(4));
        Assert.Equal(ReminderState.Open, Assert.Single(await Reminders(), r => !r.Over).State);
    }

    [Fact]
    public async Task Whoever_was_told_hears_that_the_ground_is_gone_though_the_horse_has_another_owner_since()
    {
        await FittedInJune();
        var wrong = await _yard.Visit(_horse, June(90), 33, 33);
        await Evaluate(June(90));
        var reminder = Assert.Single(await Reminders());
        var letter = Assert.Single(reminder.Letters).Key;
        await _yard.Do<Reminder>(
            reminder.Id,
            June(90),
            r => ReminderDecider.Decide(r, new NoteLetterSent(letter, "m", "folder", Guid.Empty), June(90))
        );
        await _yard.Do<Horse>(
            _horse,
            June(90),
            h => HorseDecider.Decide(h, new ChangeOwner(DeterministicId.From("another owner"), June(90), Guid.Empty), June(90))
        );
        await _yard.Withdraw(_horse, wrong, June(91));
        await Evaluate(June(91));

        var told = Assert.Single(await _store.Reminders.Owed(Practice, 10, CancellationToken.None));
        Assert.Equal((LetterKind.GroundWithdrawn, Owner), (told.Kind, told.To));
    }

    [Fact]
    public async Task Without_a_visit_within_the_interval_a_check_is_due_and_the_next_visit_resolves_it()
    {
        await FittedInJune();
        await Evaluate(June(200));
        var due = Assert.Single(await Reminders());
        Assert.Equal(ReminderRule.CheckDue, due.Rule);

        await _yard.Visit(_horse, June(201), 45, 45);
        await Evaluate(June(202));
        Assert.Equal(ReminderState.Done, Assert.Single(await Reminders()).State);
    }

    [Fact]
    public async Task A_changed_threshold_is_looked_at_without_any_new_visit()
    {
        await FittedInJune();
        await _yard.Visit(_horse, June(75), 33, 33);
        await Evaluate(June(75));
        var before = (await Assessment()).State;
        var lenient = WatchRules.Default with { Thresholds = [new ThresholdRule("slope-left", 40), new ThresholdRule("slope-right", 40)] };
        var practice = DeterministicId.From("practice", Practice);
        await _yard.Do<Practice>(
            practice,
            June(76),
            p => PracticeDecider.Decide(p, new ChangeWatchRules(lenient, "to see", Guid.Empty), June(76))
        );
        await Evaluate(June(76));

        var after = await Assessment();
        Assert.Equal(2, after.RulesVersion);
        Assert.Equal(WatchState.Refit, before);
        Assert.NotEqual(WatchState.Refit, after.State);
    }

    [Fact]
    public async Task A_reminder_keeps_the_numbers_and_the_rules_version_it_was_raised_on()
    {
        await FittedInJune();
        await _yard.Visit(_horse, June(90), 33, 33);
        await Evaluate(June(90));

        var evidence = Assert.Single(await Reminders()).Evidence;
        Assert.Equal(1, evidence.RulesVersion);
        Assert.NotNull(evidence.Measure);
        Assert.True(Math.Abs(evidence.Change!.Value) > evidence.Threshold!.Value);
        Assert.Equal(ZoneClock.Day(June(0), TimeZoneInfo.Utc), evidence.Baseline);
        Assert.NotEmpty(evidence.Sentence);
    }

    private static DateTimeOffset June(int daysAfter) => new DateTimeOffset(2026, 6, 12, 10, 0, 0, TimeSpan.Zero).AddDays(daysAfter);

    /// <summary>Three visits of one shape and a saddle set to the last.</summary>
    private async Task FittedInJune()
    {
        await _yard.Visit(_horse, June(-120), 45, 45);
        await _yard.Visit(_horse, June(-60), 45.2, 44.9);
        var visit = await _yard.Visit(_horse, June(0), 45, 45);
        await _yard.Set(_saddle, _horse, visit, June(0));
    }

    private async Task Evaluate(DateTimeOffset at)
    {
        _time.Now = at;
        await _store.CatchUp();
        await _store.EvaluationAt(_time).Run(Practice, CancellationToken.None);
        await _store.CatchUp();
    }

    private async Task<IReadOnlyList<Reminder>> Reminders() =>
        await _store.Reminders.Newest(Practice, [], _horse, null, 50, CancellationToken.None);

    private async Task<Assessment> Assessment() => (await _store.Reminders.Assessment(Practice, _horse, CancellationToken.None))!;

    private async Task ForgetAssessment()
    {
        await using var session = _store.Store.LightweightSession(Practice);
        session.Delete<Assessment>(_horse);
        await session.SaveChangesAsync();
    }
}
