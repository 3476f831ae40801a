using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.History.Tests.Reminders;

/// <summary>What the rules make of a visit whose tracings all lean the same way, and who hears of it.</summary>
public sealed class LeaningTracingsTests
{
    private const string Tenant = "practice";
    private static readonly DateTimeOffset January = new(2026, 1, 10, 9, 0, 0, TimeSpan.Zero);
    private static readonly Guid Owner = DeterministicId.From("owner");
    private static readonly Guid Manager = DeterministicId.From("manager");
    private static readonly Guid Hands = DeterministicId.From("fitter");

    [Fact]
    public void A_growing_horse_is_not_called_in_about_its_saddle_while_its_decision_waits()
    {
        var foal = Profile(new DateOnly(2023, 5, 1));
        Assert.Equal([ReminderRule.MeasureAgain], Rules(Lean));
        Assert.Contains(ReminderRule.Growing, Rules(null));

        IEnumerable<ReminderRule> Rules(VisitLean? lean) =>
            ReminderTriggers
                .Current(foal, [Visit()], Assessed(0.45, lean), ReminderRules.Default, WatchRules.Default, TimeZoneInfo.Utc)
                .Select(g => g.Rule);
    }

    [Theory]
    [InlineData(ReminderRule.VetCaution)]
    [InlineData(ReminderRule.SidesUnlike)]
    public void A_reminder_that_rested_on_tracings_that_turn_out_to_lean_is_withdrawn_and_whoever_was_told_hears_it(ReminderRule rule)
    {
        var told = After(
            new ReminderRaised(DeterministicId.From("told"), Horse, Saddle, rule, Evidence(), Seen, Guid.Empty),
            new LetterOwed(Horse, DeterministicId.From("letter"), LettersOf.KindOf(rule), Owner, Seen, Guid.Empty),
            new LetterSent(Horse, DeterministicId.From("letter"), "m", "folder", Seen, Guid.Empty)
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
            new ReminderRaised(DeterministicId.From("asked"), Horse, null, ReminderRule.MeasureAgain, evidence, Seen, Guid.Empty),
            new LetterOwed(Horse, DeterministicId.From("letter"), LetterKind.MeasureAgain, Manager, Seen, Guid.Empty),
            new LetterSent(Horse, DeterministicId.From("letter"), "m", "folder", Seen, Guid.Empty)
        );
        var silent = Situation(0.1, Lean, asked) with { Now = Seen.AddDays(40) };
        silent = silent with { Assessment = silent.Assessment with { AsOf = SeenOn.AddDays(40) } };

        Assert.Empty(Escalated(Manager));
        Assert.Equal(Manager, Assert.Single(Escalated(Hands)).Letter.To);

        IEnumerable<EscalateStep> Escalated(Guid tracer) =>
            ReminderPolicy.Steps(silent with { Readers = new Readers(Owner, Manager, tracer) }).OfType<EscalateStep>();
    }

    [Fact]
    public void Whoever_heard_of_tracings_that_lean_hears_of_them_once_more_and_the_owner_of_what_the_back_did()
    {
        var (traced, now) = (DeterministicId.From("traced"), new Readers(Owner, Manager, Hands));
        var leans = After(
            new ReminderRaised(
                DeterministicId.From("asked"),
                Horse,
                null,
                ReminderRule.MeasureAgain,
                Evidence() with
                {
                    Leans = new(SeenOn, "right"),
                },
                Seen,
                Guid.Empty
            ),
            new LetterOwed(Horse, DeterministicId.From("letter"), LetterKind.MeasureAgain, traced, Seen, Guid.Empty)
        );
        var changed = After(
            new ReminderRaised(DeterministicId.From("changed"), Horse, null, ReminderRule.ShapeChanged, Evidence(), Seen, Guid.Empty)
        );

        Assert.Equal((traced, Owner), (now.FirstReaderOf(leans), now.FirstReaderOf(changed)));
        Assert.Equal(Manager, Readers.Of(null, Manager).FirstReaderOf(changed));
        Assert.Equal(new Readers(Manager, null, Manager), Readers.Of(Manager, Manager));
    }

    [Theory]
    [InlineData(0, 2, 5)]
    [InlineData(0.5, -1, 5)]
    [InlineData(0.5, 2, 1)]
    [InlineData(0.5, double.NaN, 5)]
    public void Rules_that_could_tell_no_lean_are_refused(double scatter, double shared, double odds)
    {
        var founded = new PracticeFounded(DeterministicId.From("practice"), "Practice", "Etc/UTC", false, January, Guid.Empty);
        var rules = WatchRules.Default with { Lean = new LeanRule(scatter, shared, odds) };
        var change = new ChangeWatchRules(rules, "to see", Guid.Empty);
        var decided = PracticeDecider.Decide(History.Practices.Practice.After(null, founded)!, change, January);
        Assert.Equal("bad-rules", decided.Refused!.Code);
    }

    private static readonly Guid Horse = DeterministicId.From("horse");
    private static readonly Guid Saddle = DeterministicId.From("saddle");
    private static readonly DateTimeOffset Seen = new(2026, 6, 1, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly SeenOn = new(2026, 6, 1);
    private static readonly VisitLean Lean = new(SeenOn, new Uncertain(2.1, 0.1), 0.2, 4, null);

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
            Id = DeterministicId.From("visit"),
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
            Seen.AddHours(1),
            TimeZoneInfo.Utc
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
            Saddles = [new SaddleAssessment(Saddle, DeterministicId.From("work"), null, decision)],
        };
    }

    private static Reminder After(params IReadOnlyList<object> events) => events.Aggregate((Reminder?)null, Reminder.After)!;
}
