using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.Tests;

public class A_visit_that_leans
{
    static readonly WatchRules Rules = WatchRules.Default;
    static readonly double[] On = [Day(2025, 1, 10), Day(2025, 4, 2), Day(2025, 6, 3), Day(2025, 8, 20), Day(2025, 11, 5)];
    static readonly double[] Slight = [0, 0.4, -0.3, 0.2];

    static double Day(int year, int month, int day) => Since_the_last_fit.Day(year, month, day);

    /// <summary>Three quiet visits after the baseline, then those that are given, on the days that follow.</summary>
    static List<WatchedSeries> After(params LeaningVisitAsItWas[] last)
    {
        var quiet = 5 - last.Length;
        var before = Enumerable.Range(0, quiet).Select(i => new LeaningVisitAsItWas(On[i], Slight[i % 4], Read: last[0].Read));
        return LeaningBacks.Of([.. before, .. last.Select((v, i) => v with { Day = On[quiet + i] })], Rules);
    }

    static string Said(HorseDecision decision, string kind) => decision.InWords(Rules).Single(s => s.Kind == kind).Text;

    /// <summary>A sheet that leans on a back that has narrowed by a little, so that one half is well below what it was.</summary>
    static LeaningVisitAsItWas Leaning(double degrees) => new(0, degrees, Narrowed: 1.2);

    static HorseDecision Decide(List<WatchedSeries> back, double? asOf = null) => HorseJudge.Decide(back, On[0], asOf ?? On[4], Rules);

    static HorseDecision Found(List<WatchedSeries> back, double? asOf = null) => HorseJudge.Found(back, On[0], asOf ?? On[4], Rules);

    /// <summary>
    /// A contour that is no straight line, turned about its midline and its half areas summed up anew: by the same degree the halves part
    /// by ½·(w² + D²) each.
    /// </summary>
    [Theory]
    [InlineData(100)]
    [InlineData(150)]
    public void A_contour_turned_by_a_degree_parts_its_half_areas_by_what_its_width_and_depth_say(double depth)
    {
        var right = Enumerable.Range(0, 4001).Select(i => i * 0.1).Select(x => (X: x, Y: -x * x / (60 + 0.9 * x))).ToList();
        var left = right.Select(p => (X: -p.X, p.Y)).ToList();
        var width = 2 * Reach(right, depth);
        var parted = Parted(0.5) - Parted(-0.5);
        Assert.Equal(-2 * Turning.AreaPerDegree(width, depth) / 2, parted, 0.01 * Math.Abs(parted));

        // Right less left, cm², turned clockwise by so many degrees.
        double Parted(double degrees) => Area(Turned(right, degrees), depth) - Area(Turned(left, degrees), depth);
    }

    static List<(double X, double Y)> Turned(List<(double X, double Y)> points, double degrees)
    {
        var (sin, cos) = Math.SinCos(-degrees * Math.PI / 180);
        return [.. points.Select(p => (p.X * cos - p.Y * sin, p.X * sin + p.Y * cos))];
    }

    static double Reach(List<(double X, double Y)> arm, double depth) => Math.Abs(arm.First(p => p.Y <= -depth).X);

    /// <summary>Between the midline, the depth and the contour, cm²: the shoelace formula.</summary>
    static double Area(List<(double X, double Y)> arm, double depth)
    {
        var crossing = Math.Sign(arm[^1].X) * Reach(arm, depth);
        var ring = arm.TakeWhile(p => p.Y > -depth).Append((X: crossing, Y: -depth)).Append((X: 0, Y: -depth)).ToList();
        double twice = 0;
        for (var i = 0; i < ring.Count; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Count]);
            twice += a.X * b.Y - b.X * a.Y;
        }
        return Math.Abs(twice) / 200;
    }

    [Fact]
    public void A_lean_is_read_off_slopes_and_areas_alike_and_to_within_a_tenth_of_a_degree()
    {
        foreach (var degrees in new[] { -4.0, -2, 2, 4 })
        {
            var lean = VisitLean.Find(After(new LeaningVisitAsItWas(0, degrees)), On[4], On[..4], Rules)!;
            Assert.Equal(degrees - 0.075, lean.Turned.Value, 0.1);
            Assert.True(lean.Turned.Sd < 0.1, $"{lean.Turned}");
            Assert.Equal(degrees > 0 ? "right" : "left", lean.Way);
            Assert.Equal(4, lean.Stations);
            Assert.Equal(new DateOnly(2025, 11, 5), lean.On);
        }
    }

    [Fact]
    public void A_visit_that_leans_far_raises_no_caution_and_asks_for_the_tracing_again()
    {
        var back = After(Leaning(4));
        Assert.Null(Found(back).Caution);

        var decision = Decide(back);
        Assert.Null(decision.Caution);
        Assert.Equal(WatchState.Unknown, decision.State);
        Assert.Equal("right", decision.Leaning!.Way);
        Assert.True(decision.P < Rules.Bars.Refit, $"without the visit nothing has changed: {decision.P}");
        Assert.DoesNotContain(decision.InWords(Rules), s => s.Kind == "caution");
        var again = Said(decision, "measure-again");
        Assert.StartsWith("The tracings of 5 Nov 2025 all lean the same way to the right", again, StringComparison.Ordinal);
        Assert.Contains("Level the sheet and trace again", again, StringComparison.Ordinal);
        Assert.StartsWith("The decision waits for a tracing", Said(decision, "state"), StringComparison.Ordinal);
        Assert.Equal("The last tracings have to be taken again before anything can be said of the saddle.", Said(decision, "owner"));
    }

    [Theory]
    [InlineData(0.8)]
    [InlineData(1.6)]
    [InlineData(2.4)]
    public void A_visit_that_leans_by_less_waits_for_nothing_and_changes_nothing(double degrees)
    {
        var decision = Decide(After(new LeaningVisitAsItWas(0, degrees)));
        Assert.Null(decision.Leaning);
        Assert.Null(decision.Caution);
        Assert.Equal(WatchState.Steady, decision.State);
    }

    [Fact]
    public void A_leaning_visit_waits_for_as_long_as_nobody_traces_again()
    {
        var back = After(Leaning(4));
        foreach (var days in new[] { 1, 10, 40 })
            Assert.NotNull(Decide(back, On[4] + days).Leaning);
    }

    [Fact]
    public void A_second_visit_that_says_the_same_ends_the_waiting_and_what_both_say_counts()
    {
        var decision = Decide(After(Leaning(4), Leaning(3.5)));
        Assert.Null(decision.Leaning);
        Assert.Empty(decision.LeftOut);
        Assert.True(decision.P > Decide(After(Leaning(4), new LeaningVisitAsItWas(0, Narrowed: 1.2))).P);
    }

    [Fact]
    public void A_second_visit_that_does_not_ends_it()
    {
        var decision = Decide(After(Leaning(4), new LeaningVisitAsItWas(0)));
        Assert.Null(decision.Leaning);
        Assert.Null(decision.Caution);
        Assert.NotEqual(WatchState.Refit, decision.State);
    }

    [Fact]
    public void A_leaning_visit_that_the_next_does_not_bear_out_is_left_out()
    {
        var decision = Decide(After(Leaning(6), new LeaningVisitAsItWas(0, 1.4, Narrowed: 0.9)));
        Assert.Null(decision.Caution);
        Assert.Null(decision.Leaning);
        Assert.Equal(new DateOnly(2025, 8, 20), Assert.Single(decision.LeftOut).On);
        Assert.Contains("no other visit bears them out", Said(decision, "left-out"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_next_visit_that_has_turned_at_least_half_as_far_bears_it_out()
    {
        var decision = Decide(After(Leaning(5), new LeaningVisitAsItWas(0, 2.8, Narrowed: 1.2)));
        Assert.Null(decision.Leaning);
        Assert.Empty(decision.LeftOut);
    }

    [Fact]
    public void Time_that_passes_bears_nothing_out()
    {
        // The visit before had turned too, by less than half: half a year later the last still waits, and its trend is no caution.
        var back = After(new LeaningVisitAsItWas(0, 1.5, Narrowed: 0.8), Leaning(4));
        foreach (var late in new[] { On[4], On[4] + 170 })
        {
            Assert.NotNull(Decide(back, late).Leaning);
            Assert.Null(Decide(back, late).Caution);
        }
    }

    [Fact]
    public void A_second_visit_that_leans_the_other_way_settles_nothing()
    {
        var decision = Decide(After(Leaning(4), Leaning(-5)));
        Assert.Equal("left", decision.Leaning!.Way);
        Assert.Null(decision.Caution);
    }

    [Fact]
    public void One_side_that_truly_lost_all_along_the_back_is_told_at_once()
    {
        var back = After(new LeaningVisitAsItWas(0, LeftLost: LeaningVisitAsItWas.Everywhere(6)));
        Assert.Equal(Found(back).Caution, Decide(back).Caution);
        Assert.Null(Decide(back).Leaning);
    }

    [Fact]
    public void One_side_that_lost_at_one_station_is_a_refit_at_once_and_a_caution_when_another_visit_has_said_so_too()
    {
        var lost = new LeaningVisitAsItWas(0, LeftLost: [0, 9, 0, 0]);
        var first = Decide(After(lost));
        Assert.Equal(WatchState.Refit, first.State);
        Assert.Null(first.Leaning);
        Assert.Null(first.Caution);
        Assert.Equal("left", Decide(After(lost, lost)).Caution!.Side);
    }

    [Fact]
    public void Readings_of_the_same_visit_are_a_second_sign()
    {
        var lost = new LeaningVisitAsItWas(0, LeftLost: [0, 9, 0, 0], Read: true);
        Assert.Equal("left", Decide(After(lost)).Caution!.Side);
    }

    [Fact]
    public void A_loss_that_a_lean_could_be_is_no_caution_until_more_visits_say_the_same()
    {
        var loss = new LeaningVisitAsItWas(0, LeftLost: LeaningVisitAsItWas.Everywhere(6), Narrowed: -0.8);
        Assert.Null(Decide(After(loss)).Caution);
        Assert.Equal("left", Decide(After(loss, loss, loss, loss)).Caution!.Side);
    }

    [Fact]
    public void Readings_that_moved_with_the_tracing_tell_a_change_from_a_lean()
    {
        // Left lost and right filled: the tracings alone look like a lean.
        var turned = new LeaningVisitAsItWas(0, LeftLost: LeaningVisitAsItWas.Everywhere(8), Narrowed: -3, Read: true);
        var unread = Decide(After(turned with { Read = false }));
        Assert.NotNull(unread.Leaning);
        var decision = Decide(After(turned));
        Assert.Null(decision.Leaning);
        Assert.True(decision.P > unread.P, $"{decision.P} with readings, {unread.P} without");
    }

    [Fact]
    public void Readings_that_stayed_tell_a_lean_though_both_sides_have_narrowed_besides()
    {
        var narrowed = new LeaningVisitAsItWas(0, Lean: 3.5, Narrowed: 3.2);
        Assert.Null(Decide(After(narrowed)).Leaning);
        var decision = Decide(After(narrowed with { Read = true }));
        Assert.Null(decision.Caution);
        Assert.Equal(3.5, decision.Leaning!.ByReadings!.Value, 0.2);
    }

    [Fact]
    public void Both_sides_that_narrow_alike_are_a_refit_whichever_way_the_sheet_leaned()
    {
        var back = After(new LeaningVisitAsItWas(0, Lean: 1, Narrowed: 6), new LeaningVisitAsItWas(0, Lean: -1, Narrowed: 8));
        Assert.Equal(WatchState.Refit, Decide(back).State);
        Assert.Null(Decide(back).Leaning);
    }

    [Fact]
    public void Both_sides_that_moved_one_way_and_unlike_are_no_loss_on_one_side()
    {
        // Right by 5 degrees and left by 3: both have narrowed and the sheet leaned by one.
        var back = After(new LeaningVisitAsItWas(0, Lean: 1, Narrowed: 4));
        var lean = VisitLean.Find(back, On[4], On[..4], Rules);
        Assert.NotNull(lean);
        Assert.Equal(4, lean.SharedDegrees, 0.2);
    }

    [Fact]
    public void One_station_alone_cannot_be_told_to_lean_and_raises_no_caution()
    {
        var decision = Decide(After(Leaning(5)).Where(s => s.Station == "mid-back").ToList());
        Assert.Null(decision.Leaning);
        Assert.Null(decision.Caution);
    }

    [Fact]
    public void A_station_traced_askew_is_measured_again_and_counts_for_nothing()
    {
        var askew = After(new LeaningVisitAsItWas(0, StationLean: [0, 5, 0, 0]));
        Assert.True(Found(askew).P > 0.2, "taken as it stands it looks like a change");
        var decision = Decide(askew);
        Assert.Equal(WatchState.Steady, decision.State);
        Assert.Equal(["behind-shoulder"], decision.Measures.Where(m => m.MeasureAgain).Select(m => m.Station).Distinct());
        Assert.All(decision.Measures.Where(m => m.MeasureAgain), m => Assert.NotEqual("width@100", m.Measure));
    }

    [Fact]
    public void A_station_that_the_next_visits_find_askew_too_is_so()
    {
        var so = new LeaningVisitAsItWas(0, StationLean: [0, 5, 0, 0]);
        var decision = Decide(After(so, so));
        Assert.DoesNotContain(decision.Measures, m => m.MeasureAgain && m.Measure.StartsWith("half-area", StringComparison.Ordinal));
        Assert.True(decision.P > Decide(After(so)).P);
    }

    /// <summary>The layers of a visit's noise are a sum: however strongly they are shared, there is no correlation to hold down.</summary>
    [Fact]
    public void However_strongly_noise_is_shared_a_visit_can_be_weighed()
    {
        foreach (var lean in new[] { 0, 0.5, 0.95 })
        foreach (var (whole, same) in new[] { (0.0, 0.0), (0.5, 0.45), (0.1, 0.85) })
        {
            var movement = Rules.Movement with { WholeBack = whole, SameStation = same, WholeLean = lean };
            var decision = HorseJudge.Found(After(Leaning(4)), On[0], On[4], Rules with { Movement = movement });
            Assert.InRange(decision.P!.Value, 0, 1);
            Assert.All(decision.Measures, m => Assert.True(double.IsFinite(m.Together!.Value) && double.IsFinite(m.Together.Sd)));
        }
    }
}
