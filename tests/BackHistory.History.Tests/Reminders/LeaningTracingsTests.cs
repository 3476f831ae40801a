using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language;
using BackHistory.Language.Reminders;
using BackHistory.Store;
using BackHistory.Testing;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.History.Tests.Reminders;

/// <summary>
/// A refit or a caution that rests on one visit whose tracings all lean the same way is no letter to the owner: whoever traced levels the
/// sheet and traces again.
/// </summary>
public sealed class LeaningTracingsTests : IAsyncLifetime
{
    private const string Tenant = "practice";
    private static readonly DateTimeOffset January = new(2026, 1, 10, 9, 0, 0, TimeSpan.Zero);
    private static readonly Guid Owner = DeterministicId.Of("owner");
    private static readonly Guid Manager = DeterministicId.Of("manager");

    /// <summary>Whose hands <see cref="TestYard"/> traces by.</summary>
    private static readonly Guid Hands = DeterministicId.Of("fitter");
    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];
    private readonly FixedTime _time = new(January);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;
    private Guid _horse;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Tenant);
        await _store.Found(Tenant, January);
        _horse = await _yard.Horse(January, owner: Owner);
        var saddle = await _yard.Saddle(January);
        var first = await Traced(January, 0);
        await _yard.Set(saddle, _horse, first, January);
        await Traced(January.AddDays(70), 0.2);
        await Traced(January.AddDays(130), -0.2);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task The_owner_is_not_written_to_and_whoever_traced_is_asked_to_trace_again()
    {
        await Practice(PersonRole.Fitter);
        await Traced(On(200), 4);
        await Evaluate(On(200));

        var reminder = Assert.Single(await Reminders());
        Assert.Equal((ReminderRule.MeasureAgain, ReminderState.Open), (reminder.Rule, reminder.State));
        Assert.Equal(
            "The tracings of Test Horse of 29 July 2026 all lean the same way to the right: level the sheet and trace again.",
            reminder.Evidence.Sentence
        );
        var letter = Assert.Single(await Owed());
        Assert.Equal((LetterKind.MeasureAgain, Hands), (letter.Kind, letter.To));
        var assessment = await Assessment();
        Assert.Equal(WatchState.Unknown, assessment.State);
        Assert.Equal("right", assessment.Worst!.Decision.Leaning!.Way);
    }

    [Theory]
    [InlineData(PersonRole.Owner)]
    [InlineData(null)]
    public async Task Tracings_that_nobody_of_the_practice_took_are_the_managers_affair(PersonRole? by)
    {
        await Practice(by);
        await Traced(On(200), 4);
        await Evaluate(On(200));

        Assert.Equal(Manager, Assert.Single(await Owed()).To);
    }

    [Fact]
    public async Task The_next_visit_that_says_the_same_lets_the_caution_through_to_the_owner()
    {
        await Practice(PersonRole.Fitter);
        await Traced(On(200), 4);
        await Evaluate(On(200));
        await Traced(On(210), 3.6);
        await Evaluate(On(211));

        var reminders = (await Reminders()).ToDictionary(r => r.Rule);
        Assert.Equal(ReminderState.Done, reminders[ReminderRule.MeasureAgain].State);
        Assert.Equal(ReminderState.Open, reminders[ReminderRule.VetCaution].State);
        Assert.Equal(2, reminders.Count);
        Assert.Contains(await Owed(), l => (l.Kind, l.To) == (LetterKind.VetCaution, Owner));
        Assert.Null((await Assessment()).Worst!.Decision.Leaning);
    }

    [Fact]
    public async Task The_next_visit_that_does_not_ends_it()
    {
        await Practice(PersonRole.Fitter);
        await Traced(On(200), 4);
        await Evaluate(On(200));
        await Traced(On(210), 0.3);
        await Evaluate(On(211));

        Assert.Equal(ReminderState.Done, Assert.Single(await Reminders()).State);
        Assert.DoesNotContain(await Owed(), l => l.To == Owner);
        var decision = (await Assessment()).Worst!.Decision;
        Assert.Null(decision.Leaning);
        Assert.Null(decision.Caution);
        Assert.NotEqual(WatchState.Refit, decision.State);
    }

    [Fact]
    public void A_growing_horse_is_not_called_in_about_its_saddle_while_its_decision_waits()
    {
        var foal = Profile(new DateOnly(2023, 5, 1));
        Assert.Equal([ReminderRule.MeasureAgain], Rules(Lean));
        Assert.Contains(ReminderRule.Growing, Rules(null));

        IEnumerable<ReminderRule> Rules(VisitLean? lean) =>
            ReminderTriggers.Of(foal, [Visit()], Assessed(0.45, lean), ReminderRules.Default, WatchRules.Default).Select(g => g.Rule);
    }

    [Theory]
    [InlineData(ReminderRule.VetCaution)]
    [InlineData(ReminderRule.SidesUnlike)]
    public void A_reminder_that_rested_on_tracings_that_turn_out_to_lean_is_withdrawn_and_whoever_was_told_hears_it(ReminderRule rule)
    {
        var told = After(
            new ReminderRaised(DeterministicId.Of("told"), Horse, Saddle, rule, Evidence(), Seen, Guid.Empty),
            new LetterOwed(Horse, DeterministicId.Of("letter"), LettersOf.KindOf(rule), Owner, Seen, Guid.Empty),
            new LetterSent(Horse, DeterministicId.Of("letter"), "m", "folder", Seen, Guid.Empty)
        );
        var steps = ReminderPolicy.Steps(Situation(0.1, Lean, told));

        var withdrawn = Assert.Single(steps.OfType<WithdrawStep>());
        Assert.Equal("The tracings that it rests on lean: they are to be taken again first.", withdrawn.Reason);
        Assert.Equal((LetterKind.GroundWithdrawn, Owner), (Assert.Single(withdrawn.Letters).Kind, withdrawn.Letters[0].To));
        Assert.Equal(ReminderRule.MeasureAgain, Assert.Single(steps.OfType<RaiseStep>()).Command.Rule);
    }

    [Fact]
    public void A_manager_who_traced_is_not_told_that_he_has_not_answered_himself()
    {
        var evidence = Evidence() with { Leans = new(SeenOn, "right") };
        var asked = After(
            new ReminderRaised(DeterministicId.Of("asked"), Horse, null, ReminderRule.MeasureAgain, evidence, Seen, Guid.Empty),
            new LetterOwed(Horse, DeterministicId.Of("letter"), LetterKind.MeasureAgain, Manager, Seen, Guid.Empty),
            new LetterSent(Horse, DeterministicId.Of("letter"), "m", "folder", Seen, Guid.Empty)
        );
        var silent = Situation(0.1, Lean, asked) with { Now = Seen.AddDays(40) };
        silent = silent with { Assessment = silent.Assessment with { AsOf = SeenOn.AddDays(40) } };

        Assert.Empty(Escalated(Manager));
        Assert.Equal(Manager, Assert.Single(Escalated(Hands)).Letter.To);

        IEnumerable<EscalateStep> Escalated(Guid tracer) =>
            ReminderPolicy.Steps(silent with { Readers = new Readers(Owner, Manager, tracer) }).OfType<EscalateStep>();
    }

    [Fact]
    public void It_is_said_in_German_too()
    {
        var evidence = Evidence() with { Leans = new(new DateOnly(2026, 7, 23), "left") };
        Assert.Equal(
            "Die Zeichnungen von Amber vom 23. Juli 2026 neigen sich alle gleich nach links: "
                + "bitte das Blatt waagerecht ausrichten und noch einmal zeichnen.",
            ReminderSentences.SentenceOf(ReminderRule.MeasureAgain, evidence, "Amber", ReportLanguage.Of("de"))
        );
    }

    [Theory]
    [InlineData(0, 2, 5)]
    [InlineData(0.5, -1, 5)]
    [InlineData(0.5, 2, 1)]
    [InlineData(0.5, double.NaN, 5)]
    public void Rules_that_could_tell_no_lean_are_refused(double scatter, double shared, double odds)
    {
        var founded = new PracticeFounded(DeterministicId.Of("practice"), "Practice", "Etc/UTC", false, January, Guid.Empty);
        var rules = WatchRules.Default with { Lean = new LeanRule(scatter, shared, odds) };
        var change = new ChangeWatchRules(rules, "to see", Guid.Empty);
        var decided = PracticeDecider.Decide(History.Practices.Practice.After(null, founded)!, change, January);
        Assert.Equal("bad-rules", decided.Refused!.Code);
    }

    private static readonly Guid Horse = DeterministicId.Of("horse");
    private static readonly Guid Saddle = DeterministicId.Of("saddle");
    private static readonly DateTimeOffset Seen = new(2026, 6, 1, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly SeenOn = new(2026, 6, 1);
    private static readonly VisitLean Lean = new(SeenOn, new Estimate(2.1, 0.1), 0.2, 4, null);

    private static HorseProfile Profile(DateOnly? foaled = null) =>
        new()
        {
            Id = Horse,
            Name = "Amber",
            RegisteredAt = Seen,
            Foaled = foaled,
            OwnerId = Owner,
        };

    private static VisitRecord Visit() =>
        new()
        {
            Id = DeterministicId.Of("visit"),
            HorseId = Horse,
            TakenAt = Seen,
            RecordedAt = Seen,
        };

    private static Evidence Evidence() =>
        new(
            SeenOn,
            1,
            "slope-left",
            "mid-back",
            "deg",
            5,
            1,
            4,
            0.9,
            SeenOn.AddDays(-200),
            null,
            "",
            new Finding(FindingKind.Hollower, null, "right")
        );

    private static Situation Situation(double p, VisitLean? lean, params Reminder[] reminders) =>
        new(
            Tenant,
            Profile(),
            [Visit()],
            Assessed(p, lean),
            reminders,
            new Readers(Owner, Manager, Hands),
            ReminderRules.Default,
            WatchRules.Default,
            Seen.AddHours(1)
        );

    private static Assessment Assessed(double p, VisitLean? lean)
    {
        var decision = new HorseDecision(
            WatchState.Unknown,
            p,
            SeenOn.AddDays(-200),
            SeenOn,
            [],
            null,
            [],
            null,
            [],
            new NextCheck(SeenOn.AddDays(180), CheckReason.SteadyWork),
            null,
            null,
            [],
            1
        )
        {
            Leaning = lean,
        };
        return new Assessment
        {
            Id = Horse,
            AsOf = SeenOn,
            RulesVersion = 1,
            State = WatchState.Unknown,
            NextCheckDue = SeenOn.AddDays(180),
            Saddles = [new SaddleAssessment(Saddle, DeterministicId.Of("work"), null, decision)],
        };
    }

    private static DateTimeOffset On(int days) => January.AddDays(days);

    /// <summary>A back that has narrowed by a little, by a sheet that leans to the right.</summary>
    private Task<Guid> Traced(DateTimeOffset at, double lean) =>
        _yard.Visit(_horse, at, [.. Stations.Select(s => _yard.Section(45 - lean + Narrowed(lean), 45 + lean + Narrowed(lean), s))]);

    private static double Narrowed(double lean) => lean > 1 ? 1.2 : 0;

    /// <param name="hands">What whoever traces is to the practice; null = nobody knows them.</param>
    private async Task Practice(PersonRole? hands)
    {
        await using var session = _store.Store.LightweightSession(Tenant);
        session.Store(Somebody(Manager, PersonRole.Manager), Somebody(Owner, PersonRole.Owner));
        if (hands is { } role)
            session.Store(Somebody(Hands, role));
        await session.SaveChangesAsync();
    }

    private static Person Somebody(Guid id, PersonRole role) => new(id, $"{role}", $"{id:N}@people.invalid", null, null, role);

    private async Task Evaluate(DateTimeOffset at)
    {
        _time.Now = at;
        await _store.CatchUp();
        await _store.EvaluationAt(_time).Run(Tenant, CancellationToken.None);
        await _store.CatchUp();
    }

    private async Task<IReadOnlyList<Reminder>> Reminders() =>
        await _store.Reminders.Newest(Tenant, [], _horse, null, 50, CancellationToken.None);

    private async Task<IReadOnlyList<Letter>> Owed() => await _store.Reminders.Owed(Tenant, 10, CancellationToken.None);

    private async Task<Assessment> Assessment() => (await _store.Reminders.Assessment(Tenant, _horse, CancellationToken.None))!;

    private static Reminder After(params IReadOnlyList<object> events) => events.Aggregate((Reminder?)null, Reminder.After)!;
}
