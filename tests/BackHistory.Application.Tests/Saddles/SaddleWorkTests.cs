using BackHistory.Application.Practices;
using BackHistory.Application.Saddles;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Saddles;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Accounts;
using BackHistory.Store.Saddles;

namespace BackHistory.Application.Tests.Saddles;

/// <summary>What is set is a mark of the gauge, a saddle is on two horses only when somebody says so, and what is sold is on
/// none.</summary>
public sealed class SaddleWorkTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Theory]
    [InlineData("4", null)]
    [InlineData("4 +0.3", null)]
    [InlineData("4 +0,3", null)]
    [InlineData("4 −0.3", null)]
    [InlineData("banana", "no-such-mark")]
    [InlineData("12", "no-such-mark")]
    [InlineData("8 +0.5", "no-such-mark")]
    public async Task A_setting_that_is_no_mark_of_the_gauge_is_refused_with_the_marks_that_it_has(string typed, string? refused)
    {
        var (practice, saddle, horse) = await Arranged($"marks {typed}");
        var outcome = await acts.Get<EnterSaddleWork>().Do(new(saddle, Tree(practice.Id("work"), horse, typed)), Fitter(practice), default);
        Assert.Equal(refused, outcome.Refused?.Code);
        if (refused is null)
        {
            // The same holds for what is put in the place of wrong work.
            var wrong = Tree(practice.Id("again"), horse, "banana");
            var again = await acts.Get<CorrectSaddleWork>().Do(new(saddle, practice.Id("work"), wrong, "Slip."), Fitter(practice), default);
            Assert.Equal("no-such-mark", again.Refused?.Code);
            return;
        }

        Assert.Equal("done[0].to", outcome.Refused!.Place);
        Assert.Contains($"“{typed}” is no mark of Bench gauge. It has 0, 1, 2, 3, 4, 5, 6, 7 and 8.", outcome.Refused.Message);
        Assert.Empty((await Saddle(practice, saddle)).Work);
    }

    [Fact]
    public async Task A_saddle_is_used_on_two_horses_only_when_somebody_says_so()
    {
        var (practice, saddle, first) = await Arranged("two horses");
        var second = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Second");
        var enter = acts.Get<EnterSaddleWork>();
        Assert.Null((await enter.Do(new(saddle, Tree(practice.Id("first"), first, "4")), Fitter(practice), default)).Refused);
        // Again to the same horse: nobody is asked.
        Assert.Null((await enter.Do(new(saddle, Tree(practice.Id("more"), first, "5")), Fitter(practice), default)).Refused);
        var asked = await enter.Do(new(saddle, Tree(practice.Id("asked"), second, "4")), Fitter(practice), default);
        Assert.Equal(("on-another-horse", "onBoth"), (asked.Refused?.Code, asked.Refused?.Place));
        Assert.False((await Saddle(practice, saddle)).IsOn(second));

        var both = Tree(practice.Id("both"), second, "4") with { OnBoth = true };
        Assert.Null((await enter.Do(new(saddle, both), Fitter(practice), default)).Refused);
        Assert.Equal(new[] { first, second }.Order(), (await Saddle(practice, saddle)).OnHorses().Order());
        // Once said, it is not asked again.
        Assert.Null((await enter.Do(new(saddle, Tree(practice.Id("later"), second, "5")), Fitter(practice), default)).Refused);
    }

    [Fact]
    public async Task Work_that_was_recorded_for_the_wrong_horse_goes_to_the_right_one_without_being_asked()
    {
        var (practice, saddle, wrong) = await Arranged("wrong horse");
        var right = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Right");
        Assert.Null(
            (await acts.Get<EnterSaddleWork>().Do(new(saddle, Tree(practice.Id("work"), wrong, "4")), Fitter(practice), default)).Refused
        );
        var instead = Tree(practice.Id("instead"), right, "4");
        var put = await acts.Get<CorrectSaddleWork>().Do(new(saddle, practice.Id("work"), instead, "Slip."), Fitter(practice), default);
        Assert.Null(put.Refused);
        Assert.Equal([right], (await Saddle(practice, saddle)).OnHorses());
    }

    [Fact]
    public async Task A_saddle_is_out_on_trial_with_two_horses_only_when_somebody_says_so()
    {
        var (practice, saddle, first) = await Arranged("two trials");
        var second = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Second");
        var begin = acts.Get<BeginSaddleTrial>();
        Assert.Null((await begin.Do(new(saddle, practice.Id("a"), first, null, null), Fitter(practice), default)).Refused);
        var asked = await begin.Do(new(saddle, practice.Id("b"), second, null, null), Fitter(practice), default);
        Assert.Equal("on-trial-elsewhere", asked.Refused?.Code);
        Assert.Null((await begin.Do(new(saddle, practice.Id("b"), second, null, null, OnBoth: true), Fitter(practice), default)).Refused);
    }

    [Fact]
    public async Task A_saddle_that_is_kept_after_a_trial_is_on_the_horse_that_tried_it()
    {
        var (practice, saddle, first) = await Arranged("kept");
        var tries = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Tries");
        var returns = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Returns");
        var (begin, end) = (acts.Get<BeginSaddleTrial>(), acts.Get<EndSaddleTrial>());
        await begin.Do(new(saddle, practice.Id("back"), returns, null, null), Fitter(practice), default);
        await begin.Do(new(saddle, practice.Id("kept"), tries, null, null, OnBoth: true), Fitter(practice), default);
        await end.Do(new(saddle, practice.Id("back"), false, "Slides.", null), Fitter(practice), default);
        Assert.Empty((await Saddle(practice, saddle)).OnHorses());
        Assert.Null((await end.Do(new(saddle, practice.Id("kept"), true, null, null), Fitter(practice), default)).Refused);

        Assert.Equal([tries], (await Saddle(practice, saddle)).OnHorses());
        await acts.Store.CatchUp();
        Assert.Contains(saddle, (await Profile(practice, tries)).NotYetSet);
        Assert.Empty((await Profile(practice, tries)).Trials);
        Assert.DoesNotContain(saddle, (await Profile(practice, returns)).NotYetSet);
        var listed = await acts.Store.Saddles.Found(practice.Name, "Tries", SaddlePlace.OnHorse, null, 50, default);
        Assert.Equal([saddle], listed.Select(s => s.Id));

        // Set to it, it is no longer waiting to be; taken off, it is gone from it.
        await acts.Get<EnterSaddleWork>().Do(new(saddle, Tree(practice.Id("work"), tries, "4")), Fitter(practice), default);
        await acts.Store.CatchUp();
        Assert.Empty((await Profile(practice, tries)).NotYetSet);
        Assert.Equal([tries], (await Saddle(practice, saddle)).OnHorses());
        await acts.Get<TakeSaddleOff>().Do(new(saddle, tries, "Sold.", null), Fitter(practice), default);
        Assert.Empty((await Saddle(practice, saddle)).OnHorses());
        Assert.False((await Saddle(practice, saddle)).IsOn(first));
    }

    [Fact]
    public async Task A_trial_whose_end_is_entered_late_does_not_put_the_saddle_back_on_a_horse_from_which_it_was_taken()
    {
        var (practice, saddle, horse) = await Arranged("kept late");
        var enter = acts.Get<EnterSaddleWork>();
        var began = acts.Time.Now.AddDays(-5);
        await acts.Get<BeginSaddleTrial>().Do(new(saddle, practice.Id("trial"), horse, null, began), Fitter(practice), default);
        await enter.Do(new(saddle, Tree(practice.Id("work"), horse, "4") with { TakenAt = began.AddDays(1) }), Fitter(practice), default);
        await acts.Get<TakeSaddleOff>().Do(new(saddle, horse, "Lame.", began.AddDays(3)), Fitter(practice), default);
        var kept = new EndSaddleTrial.Input(saddle, practice.Id("trial"), true, null, began.AddDays(2));
        Assert.Null((await acts.Get<EndSaddleTrial>().Do(kept, Fitter(practice), default)).Refused);
        Assert.Empty((await Saddle(practice, saddle)).OnHorses());
        await acts.Store.CatchUp();
        Assert.Empty((await Profile(practice, horse)).NotYetSet);
    }

    [Fact]
    public async Task A_saddle_that_is_sold_is_on_no_horse_any_more_and_is_the_buyers()
    {
        var (practice, saddle, horse) = await Arranged("sold");
        var buyer = await practice.Person("Buyer", PersonRole.Owner);
        var tries = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), "Tries");
        await acts.Get<EnterSaddleWork>().Do(new(saddle, Tree(practice.Id("work"), horse, "4")), Fitter(practice), default);
        await acts.Get<FitSaddlePad>().Do(new(saddle, practice.Id("pad"), horse, "Felt", [], null), Fitter(practice), default);
        await acts.Get<BeginSaddleTrial>().Do(new(saddle, practice.Id("trial"), tries, null, null), Fitter(practice), default);
        var sale = new RecordSaddleSale.Input(saddle, buyer, "To a neighbour.", null);
        var by = practice.By(PracticeRole.Fitter, "the sale");
        var sold = await acts.Get<RecordSaddleSale>().Do(sale, by, default);
        Assert.Null(sold.Refused);
        // Twice pressed, it is sold once.
        Assert.Equal(sold.Version, (await acts.Get<RecordSaddleSale>().Do(sale, by, default)).Version);
        var after = await Saddle(practice, saddle);
        Assert.Empty(after.OnHorses());
        Assert.Equal(buyer, after.OwnerId);
        Assert.All(after.Trials, t => Assert.False(t.Kept));
        Assert.All(after.Pads, p => Assert.NotNull(p.Until));
        Assert.Equal("already-sold", (await acts.Get<RecordSaddleSale>().Do(sale, Fitter(practice), default)).Refused?.Code);
    }

    [Fact]
    public async Task Saddles_are_found_by_what_they_are_called_what_their_maker_says_and_whose_they_are()
    {
        var (practice, saddle, horse) = await Arranged("found");
        var owner = await practice.Person("Olga 100% Example", PersonRole.Owner);
        var other = practice.Id("other");
        await acts.Get<EnterSaddle>()
            .Do(new(other, new SaddleDetails("Brown 17", "Beech, 31 cm", "wool_flocked", null, null), owner), Fitter(practice), default);
        await acts.Get<BeginSaddleTrial>().Do(new(other, practice.Id("trial"), horse, null, null), Fitter(practice), default);
        Assert.Equal([other], await Found("brown"));
        Assert.Equal([other], await Found("BEECH"));
        Assert.Equal([other], await Found("100% ex"));
        Assert.Equal([other], await Found("l_f"));
        Assert.Empty(await Found("b_own"));
        Assert.Equal([other], await Found("", SaddlePlace.OnTrial));
        Assert.Equal([saddle], await Found("", SaddlePlace.OnNone));
        Assert.Empty(await Found("", SaddlePlace.OnHorse));
        await acts.Get<EnterSaddleWork>().Do(new(saddle, Tree(practice.Id("work"), horse, "4")), Fitter(practice), default);
        Assert.Equal([saddle], await Found("", SaddlePlace.OnHorse));
        await acts.Get<TakeSaddleOff>().Do(new(saddle, horse, "Sold.", null), Fitter(practice), default);
        Assert.Equal([saddle], await Found("", SaddlePlace.OnNone));
        // A page at a time.
        var first = await acts.Store.Saddles.Found(practice.Name, "", SaddlePlace.Anywhere, null, 1, default);
        var last = await acts.Store.Saddles.Found(practice.Name, "", SaddlePlace.Anywhere, (first[0].Label, first[0].Id), 9, default);
        Assert.Equal(new[] { saddle, other }.Order(), first.Concat(last).Select(s => s.Id).Order());
        Assert.Single(first);

        async Task<IEnumerable<Guid>> Found(string text, SaddlePlace place = SaddlePlace.Anywhere) =>
            (await acts.Store.Saddles.Found(practice.Name, text, place, null, 50, default)).Select(s => s.Id);
    }

    private async Task<(TestPractice Practice, Guid Saddle, Guid Horse)> Arranged(string name)
    {
        var practice = await acts.Found(name);
        var marks = Enumerable.Range(0, 9).Select(i => new GaugeMark($"{i}", i, 30 + 2.5 * i)).ToList();
        var gauge = new EnterGauge.Input("bench", "Bench gauge", "slope", "deg", marks, "As measured.");
        Assert.Null((await acts.Get<EnterGauge>().Do(gauge, practice.By(PracticeRole.Manager), default)).Refused);
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-9));
        var saddle = practice.Id("saddle");
        var details = new SaddleDetails("17", null, null, null, "bench");
        Assert.Null((await acts.Get<EnterSaddle>().Do(new(saddle, details, null), Fitter(practice), default)).Refused);
        return (practice, saddle, horse);
    }

    private WorkDone Tree(Guid id, Guid horse, string mark) =>
        new(id, horse, null, true, false, [new Adjustment("tree", "left", null, mark, "bench")], acts.Time.Now, null, null);

    private async Task<Saddle> Saddle(TestPractice practice, Guid id) => (await acts.Store.Saddles.Load(practice.Name, id, default))!;

    private async Task<HorseProfile> Profile(TestPractice practice, Guid id) =>
        (await acts.Store.Horses.Profile(practice.Name, id, default))!;

    private static Caller Fitter(TestPractice practice) => practice.By(PracticeRole.Fitter);
}
