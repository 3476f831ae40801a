using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Joint;
using CsCheck;
using MathNet.Numerics.LinearAlgebra;

namespace BackHistory.Trends.Tests;

public class Movements_of_a_pattern
{
    static readonly MovementPrior Prior = MovementPrior.RuleOfThumb with { OutlierShare = 0 };

    /// <summary>Five visits: two before the baseline or at it, three after; by two named pairs of hands or by nobody known.</summary>
    static readonly Gen<PatternScores> Scores =
        from rows in Gen.Select(Gen.Double[20, 150], Gen.Double[-2, 2], Gen.Double[0.05, 0.6], Gen.Int[-1, 1]).Array[5]
        from person in Gen.OneOf(Gen.Const(0.0), Gen.Const(0.3))
        select new PatternScores
        {
            Visits =
            [
                .. rows.Select((r, i) => new PatternScores.Score(20000 + rows.Take(i + 1).Sum(x => x.Item1), r.Item2, r.Item3, r.Item4)),
            ],
            PersonVariance = person,
        };

    /// <summary>
    /// The same movement by another road: every visit's level is a linear combination of independent draws (first level, slopes, wander
    /// of each step, jump, hands), and the change is foretold from the visits by the covariance of them all.
    /// </summary>
    static (Uncertain Change, double LogLikelihood) Dense(PatternScores scores, int onset, MovementScale scale)
    {
        var draws = new List<double> { 1e8, Prior.SteadyPace * Prior.SteadyPace };
        var (level, slope) = (new Dictionary<int, double> { [0] = 1 }, new Dictionary<int, double> { [1] = 1 });
        var (levels, pace) = (new List<Dictionary<int, double>>(), Prior.SteadyPace);
        for (var v = 0; v < scores.Visits.Length; v++)
        {
            if (v > 0)
            {
                var step = DriftStep.For(scores.Visits[v].Day - scores.Visits[v - 1].Day, pace, Prior.PersistenceDays);
                foreach (var (k, w) in slope)
                    level[k] = level.GetValueOrDefault(k) + step.Reach * w;
                foreach (var k in slope.Keys.ToList())
                    slope[k] *= step.Decay;
                // Two correlated draws of the step by Cholesky.
                var own = Math.Sqrt(step.LevelVariance);
                Draw(level, 1, own);
                slope[draws.Count - 1] = step.Covariance / own;
                Draw(slope, step.SlopeVariance - step.Covariance * step.Covariance / step.LevelVariance, 1);
            }
            levels.Add(new(level));
            if (v != onset)
                continue;
            pace = scale.Pace;
            slope.Clear();
            Draw(slope, pace * pace, 1);
            Draw(level, scale.Jump * scale.Jump, 1);
        }
        var hands = new[] { draws.Count, draws.Count + 1 };
        draws.AddRange([scores.PersonVariance, scores.PersonVariance]);
        var n = scores.Visits.Length;
        var a = Matrix<double>.Build.Dense(n, draws.Count);
        for (var v = 0; v < n; v++)
        {
            foreach (var (k, w) in levels[v])
                a[v, k] = w;
            if (scores.Visits[v].Rater >= 0)
                a[v, hands[scores.Visits[v].Rater]] = 1;
        }
        var d = Matrix<double>.Build.DenseOfDiagonalArray([.. draws]);
        var noise = Matrix<double>.Build.DenseOfDiagonalArray([
            .. scores.Visits.Select(s => s.Variance + (s.Rater < 0 ? scores.PersonVariance : 0)),
        ]);
        var covariance = a * d * a.Transpose() + noise;
        var wanted = Vector<double>.Build.Dense(draws.Count, k => levels[^1].GetValueOrDefault(k) - levels[0].GetValueOrDefault(k));
        var cross = a * d * wanted;
        var y = Vector<double>.Build.Dense(n, v => scores.Visits[v].Value);
        var solved = covariance.Cholesky().Solve(cross);
        return (
            new(solved * y, Math.Sqrt(wanted * d * wanted - solved * cross)),
            -0.5 * (covariance.Cholesky().DeterminantLn + y * covariance.Cholesky().Solve(y))
        );

        void Draw(Dictionary<int, double> to, double variance, double weight)
        {
            to[draws.Count] = weight;
            draws.Add(variance);
        }
    }

    [Fact]
    public void Change_and_likelihood_of_a_movement_agree_with_the_covariance_of_all_visits() =>
        Gen.Select(Scores, Gen.Int[0, 3], Gen.Int[0, 2])
            .Sample(
                (scores, onset, k) =>
                {
                    var filter = new MovementFilter(
                        scores,
                        2,
                        scores.Visits[0].Day,
                        Prior,
                        oneMeasure: false,
                        new DriftSteps(Prior.PersistenceDays)
                    );
                    var (change, likelihood) = Dense(scores, onset, Prior.Scales[k]);
                    var movement = filter.Run(onset, Prior.Scales[k]);
                    Assert.Equal(change.Value, movement.Change, 2e-5);
                    Assert.Equal(change.Sd, Math.Sqrt(movement.ChangeVariance), 2e-5);
                    var steady = Dense(scores, 99, Prior.Scales[k]);
                    Assert.Equal(likelihood - steady.LogLikelihood, movement.LogLikelihood, 1e-4);
                    Assert.Equal(steady.Change.Value, filter.Steady().Change, 2e-5);
                },
                iter: 300
            );

    [Fact]
    public void One_pair_of_hands_throughout_changes_nothing_of_a_movement() =>
        Scores.Sample(
            scores =>
            {
                var mine = new PatternScores { Visits = [.. scores.Visits.Select(v => v with { Rater = 1 })], PersonVariance = 0.7 };
                var nobodys = new PatternScores { Visits = mine.Visits, PersonVariance = 0 };
                Assert.Equal(
                    new MovementFilter(nobodys, 2, mine.Visits[1].Day, Prior, false, new DriftSteps(Prior.PersistenceDays)).Run(
                        0,
                        Prior.Scales[1]
                    ),
                    new MovementFilter(mine, 2, mine.Visits[1].Day, Prior, false, new DriftSteps(Prior.PersistenceDays)).Run(
                        0,
                        Prior.Scales[1]
                    )
                );
            },
            iter: 50
        );

    [Theory, InlineData(0.3), InlineData(1.19), InlineData(1.21), InlineData(90), InlineData(4000)]
    public void Two_half_steps_of_the_process_are_one_whole_step(double days)
    {
        var (half, whole) = (DriftStep.For(days / 2, 0.01, 120), DriftStep.For(days, 0.01, 120));
        Assert.Equal(whole.Decay, half.Decay * half.Decay, 1e-12);
        Assert.Equal(1, (half.Reach + half.Reach * half.Decay) / whole.Reach, 1e-12);
        var level =
            half.LevelVariance + 2 * half.Reach * half.Covariance + half.Reach * half.Reach * half.SlopeVariance + half.LevelVariance;
        Assert.Equal(1, level / whole.LevelVariance, 1e-3);
        Assert.Equal(1, (half.SlopeVariance * half.Decay * half.Decay + half.SlopeVariance) / whole.SlopeVariance, 1e-9);
        Assert.Equal(1, (half.Decay * (half.Covariance + half.Reach * half.SlopeVariance) + half.Covariance) / whole.Covariance, 1e-9);
    }

    [Fact]
    public void Horses_that_do_not_move_raise_fewer_than_one_false_alarm_in_twenty_years()
    {
        // 150 horses for 800 days each; noise here is shared by nothing, which the rules do not assume. The whole picture is `ops/bench
        // alarms`.
        var random = new Random(6);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var alarms = 0;
        for (var horse = 0; horse < 150; horse++)
        {
            var days = Enumerable.Range(0, 9).Select(i => (20000.0 + 100 * i, 0.0)).ToArray();
            var back = Since_the_last_fit
                .Back(days)
                .Select(s =>
                {
                    var sd = Math.Sqrt(s.Observations[0].Sd * s.Observations[0].Sd + s.Noise.VisitSd * s.Noise.VisitSd);
                    return s with { Observations = [.. s.Observations.Select(o => o with { Value = o.Value + sd * Normal() })] };
                })
                .ToList();
            if (days.Skip(1).Any(d => HorseJudge.Decide(back, 20000, d.Item1, WatchRules.Default).State == WatchState.Refit))
                alarms++;
        }
        Assert.InRange((double)alarms, 0, 0.05 * 150 * 800 / 365.25);
    }
}
