using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Decisions;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Store.Tests.Practices;

/// <summary>What a practice's horses and hands teach, as events with a version that a decision names.</summary>
public sealed class LearningTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Today = new(2026, 12, 1);
    private PracticeStore _store = null!;
    private TestYard _yard = null!;

    private PracticeQueries Practices => new(_store.Store);

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _yard = new TestYard(_store, Practice);
        await _store.Found(Practice, June);
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task Twelve_horses_traced_twice_teach_the_spread_of_the_hand_and_a_decision_names_the_version()
    {
        // Each pair of tracings differs by two degrees: within-subject sd 2/√2 by one-way analysis of variance.
        var horses = new List<Guid>();
        for (var h = 0; h < 12; h++)
            horses.Add(await Fitted($"Horse {h}", 40 + h, 42 + h));
        await Learn();

        var known = await Known();
        var trace = known.Noise!.Pool("slope-left")!.Trace!;
        Assert.Equal(12, trace.Df);
        Assert.Equal(Math.Sqrt(2), trace.Sd, 0.1);
        Assert.NotNull(known.Priors);
        Assert.Equal((3, 2, 3), (known.RulesVersion, known.NoiseVersion, known.PriorsVersion));

        var assessment = await Assess(horses[0], known);
        Assert.Equal(3, assessment.RulesVersion);
        Assert.Equal(3, assessment.Saddles[0].Decision.RulesVersion);
        // The same tracings under the rule of thumb of 1° are trusted more.
        var plain = await Assess(horses[0], (await Practices.AtRules(Practice, 1, CancellationToken.None))!);
        Assert.Equal(1, plain.RulesVersion);
        Assert.True(Slope(assessment).MinimalDetectable > Slope(plain).MinimalDetectable);
    }

    [Fact]
    public void Copies_of_one_tracing_are_one_tracing_however_many_visits_hold_them()
    {
        VisitRecord Visit(int i, double slope, string kind) =>
            new()
            {
                Id = DeterministicId.From("visit", $"{i}"),
                HorseId = DeterministicId.From("horse"),
                TakenAt = June.AddMinutes(i),
                Method = "flexible-curve",
                Entries =
                [
                    new(
                        DeterministicId.From("entry", $"{i}"),
                        i,
                        kind,
                        "mid-back",
                        [new("slope-left", "mid-back", slope, "deg"), new("slope-right", "mid-back", slope + 1.2345678, "deg")],
                        []
                    ),
                ],
            };
        var traced = Enumerable.Range(0, 45).Select(i => Visit(i, i < 43 ? 45.1234567 : 44 + i, "cross-section")).ToList();
        var told = Repeats.RepeatsIn(traced, TimeZoneInfo.Utc).Where(r => r.Measure == "slope-left").ToList();
        Assert.Equal([45.1234567, 87, 88], told.SelectMany(r => r.Visit.Tracings));
        // A number that is read off an instrument can come out the same again, and says how well it was read.
        Assert.Equal(
            90,
            Repeats.RepeatsIn(traced.Select((_, i) => Visit(i, 45, "reading")), TimeZoneInfo.Utc).Sum(r => r.Visit.Tracings.Count)
        );
    }

    [Fact]
    public async Task Learning_again_from_the_same_horses_records_nothing()
    {
        for (var h = 0; h < 11; h++)
            await Fitted($"Horse {h}", 40 + h, 42 + h);
        await Learn();
        await Learn();
        Assert.Equal(3, (await Known()).RulesVersion);
    }

    [Fact]
    public async Task A_small_practice_has_nothing_learned_and_an_old_version_is_found_again()
    {
        await Fitted("Only Horse", 45, 45);
        await Learn();
        var known = await Known();
        Assert.Null(known.Priors);
        Assert.Null(await Practices.AtRules(Practice, known.RulesVersion + 1, CancellationToken.None));
        Assert.Null((await Practices.AtRules(Practice, 1, CancellationToken.None))!.Noise);
    }

    [Fact]
    public async Task A_study_is_begun_counted_and_finished_and_refuses_what_says_nothing()
    {
        var (study, by, now) = (DeterministicId.From("study"), Guid.Empty, June);
        History.Practices.Practice Of(params object[] events) =>
            events.Aggregate(new History.Practices.Practice(), (p, e) => History.Practices.Practice.After(p, e)!);
        var begun = Assert.IsType<RepeatabilityStudyBegun>(
            Assert.Single(PracticeDecider.Decide(new Practice(), new BeginStudy(study, "flexible-curve", 5, 2, by), now).Events)
        );
        Assert.Equal(
            "bad-size",
            PracticeDecider.Decide(new Practice(), new BeginStudy(study, "flexible-curve", 2, 2, by), now).Refused!.Code
        );
        Assert.Equal(
            "bad-size",
            PracticeDecider.Decide(new Practice(), new BeginStudy(study, "flexible-curve", 5, 1, by), now).Refused!.Code
        );
        Assert.Equal("too-few-horses", PracticeDecider.Decide(Of(begun), new FinishStudy(study, by), now).Refused!.Code);

        var visits = Enumerable
            .Range(0, 3)
            .Select(h => new RepeatedVisitCounted(study, DeterministicId.From("h", $"{h}"), DeterministicId.From("v", $"{h}"), now, by))
            .ToArray<object>();
        Practice measured = Of([begun, .. visits]);
        Assert.Equal(
            "visit-counted",
            PracticeDecider
                .Decide(measured, new CountVisit(study, DeterministicId.From("h", "0"), DeterministicId.From("v", "0"), by), now)
                .Refused!.Code
        );
        Assert.IsType<RepeatabilityStudyFinished>(Assert.Single(PracticeDecider.Decide(measured, new FinishStudy(study, by), now).Events));
        var finished = History.Practices.Practice.After(measured, new RepeatabilityStudyFinished(study, now, by))!;
        Assert.Equal(
            "study-finished",
            PracticeDecider
                .Decide(finished, new CountVisit(study, DeterministicId.From("h", "9"), DeterministicId.From("v", "9"), by), now)
                .Refused!.Code
        );
        await Task.CompletedTask;
    }

    [Fact]
    public void A_study_says_in_words_that_a_limit_lies_below_what_the_hand_can_see()
    {
        var study = new Study(
            DeterministicId.From("table"),
            "slope-left",
            "behind-shoulder",
            "inclinometer",
            [],
            [
                [40, 46],
                [42, 47],
                [44, 39],
                [45, 50],
                [41, 46],
            ],
            June
        );
        var finding = Assert.Single(
            StudyFinding.FindingsFrom([.. Repeats.RepeatsIn(study, TimeZoneInfo.Utc)], WatchRules.Default, _ => "deg")
        );
        var says = finding.InWords();
        // By hand: Σ(difference²)/2 over 5 pairs = (36 + 25 + 25 + 25 + 25)/2 / 5 = 13.6.
        Assert.Equal(Math.Sqrt(13.6), finding.Repeats.WithinSd!.Value, 1e-12);
        Assert.Equal(1.96 * Math.Sqrt(2 * (13.6 + 1.5 * 1.5)), finding.MinimalDetectable, 1e-9);
        Assert.Contains("measures the hand", says[0], StringComparison.Ordinal);
        Assert.Contains("5 degrees of freedom, under 10", says[1], StringComparison.Ordinal);
        Assert.Equal(-3.2, finding.Agreement!.Bias, 1e-12);
    }

    [Fact]
    public async Task A_flagged_tracing_stays_in_the_history_and_counts_for_less()
    {
        var horse = await _yard.Horse(June, "Gappy");
        await _yard.Visit(horse, June, 45, 45);
        await _store.CatchUp();
        var visit = Assert.Single((await _store.Horses.Visits(Practice, horse, CancellationToken.None))!);
        var flagged = visit with
        {
            Entries = visit.Entries.ConvertAll(e => e with { Flags = [new Shape.QualityFlag("gap", "left", default, default, 40)] }),
        };
        var (clean, worse) = (Sd(visit), Sd(flagged));
        Assert.Equal(WatchRules.Default.FlagFactor, worse / clean, 1e-12);

        double Sd(VisitRecord v) =>
            Series.SeriesFrom([v], "slope-left", "behind-shoulder", WatchRules.Default, TimeZoneInfo.Utc)!.Observations[0].Sd;
    }

    private static MeasureDecision Slope(Assessment a) => a.Saddles[0].Decision.Measures.Single(m => m.Measure == "slope-left");

    private async Task<Guid> Fitted(string name, double first, double second)
    {
        var horse = await _yard.Horse(June, name);
        var saddle = await _yard.Saddle(June, $"saddle of {name}");
        var visit = await _yard.Visit(horse, June, _yard.Section(first, 45), _yard.Section(second, 45));
        await _yard.Set(saddle, horse, visit, June.AddHours(1));
        await _yard.Visit(horse, June.AddDays(90), (first + second) / 2, 45);
        return horse;
    }

    private async Task Learn()
    {
        await _store.CatchUp();
        var (priors, noise) = await new PracticeLearner(_store.Store).Learn(Practice, Today, CancellationToken.None);
        await _yard.Do<Practice>(
            DeterministicId.From("practice", Practice),
            June.AddDays(100),
            p => PracticeDecider.Decide(p, new AdoptLearned(priors, noise, Guid.Empty), June.AddDays(100))
        );
        await _store.CatchUp();
    }

    private async Task<Practice> Known() => (await Practices.Load(Practice, CancellationToken.None))!;

    private async Task<Assessment> Assess(Guid horse, Practice rules)
    {
        var profile = (await _store.Horses.Profile(Practice, horse, CancellationToken.None))!;
        return Assessing.Assess(profile, (await _store.Horses.Visits(Practice, horse, CancellationToken.None))!, rules, Today, 0, null);
    }
}
