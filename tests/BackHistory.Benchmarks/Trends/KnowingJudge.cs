using BackHistory.Trends.Rules;

namespace BackHistory.Benchmarks.Trends;

/// <summary>
/// The best attainable: a judge who knows every layer of noise and how it is shared, the season, the shape that each change takes on this
/// very horse, how long it takes and how large it is. It does not know the horse's levels, the hands' offsets, whether it changes, how,
/// or since when. Exact likelihood ratios by a Kalman filter whose state are the levels and the offsets of both pairs of hands; the
/// imagined changes pass through the same filter as the data.
/// </summary>
sealed class KnowingJudge
{
    // Sums and differences of slopes hold nothing that the slopes do not.
    static readonly int[] Kept =
    [
        .. Enumerable
            .Range(0, Watchlist.Count)
            .Where(i => i >= Watchlist.Drop || (i % Watchlist.PerStation) is not (Watchlist.OpeningAngle or Watchlist.SkewSlope)),
    ];
    const double OnsetStep = 30;

    internal sealed record Imagined(Fate Fate, double Onset, int Station, bool Left, double[][] Shift);

    /// <summary>Log odds at each visit that an imagined change since the baseline is past a threshold; negative infinity at and before
    /// the baseline.</summary>
    internal static (double[] Refit, double[] Loss) LogOdds(SimulatedHorse horse, SimulatedVisits visits, int baseline)
    {
        var changes = Imagine(horse, visits, baseline);
        var ratios = LogRatios(horse, visits, changes);
        var (refit, loss) = (new double[visits.Days.Length], new double[visits.Days.Length]);
        for (var v = 0; v < visits.Days.Length; v++)
        {
            (refit[v], loss[v]) = (double.NegativeInfinity, double.NegativeInfinity);
            if (v <= baseline)
                continue;
            double past = 0,
                lost = 0,
                rest = changes.Count;
            for (var c = 0; c < changes.Count; c++)
            {
                var weight = Math.Exp(Math.Min(600, ratios[v][c]));
                if (PastThreshold(changes[c].Shift[v], visits.Reference))
                    past += weight;
                else
                    rest += weight;
                if (changes[c].Fate == Fate.LosesOneSide && visits.Days[v] > changes[c].Onset + 0.5 * SimulatedHorse.LossDays)
                    lost += weight;
            }
            refit[v] = Math.Log(past / rest);
            loss[v] = Math.Log(lost / (past + rest - lost));
        }
        return (refit, loss);
    }

    static List<Imagined> Imagine(SimulatedHorse horse, SimulatedVisits visits, int baseline)
    {
        var steady = horse.With(Fate.Steady, 0);
        var changes = new List<Imagined>();
        for (var onset = visits.Days[baseline]; onset < visits.Days[^1]; onset += OnsetStep)
        {
            Add(Fate.ShoulderOpens, onset, 0, false);
            for (var k = 0; k < 4; k++)
                Add(Fate.LosesOneSide, onset, k / 2, k % 2 == 0);
        }
        return changes;

        void Add(Fate fate, double onset, int station, bool left)
        {
            var other = horse.With(fate, onset, station, left);
            changes.Add(
                new(
                    fate,
                    onset,
                    station,
                    left,
                    [.. visits.Days.Select(d => other.Measures(d).Zip(steady.Measures(d), (a, b) => a - b).ToArray())]
                )
            );
        }
    }

    static bool PastThreshold(double[] shift, double[] reference)
    {
        for (var i = 0; i < shift.Length; i++)
            if (Math.Abs(shift[i]) > Watchlist.ThresholdOf(i).At(reference[i]))
                return true;
        return false;
    }

    /// <summary>Log likelihood ratio of each change against none, after each visit.</summary>
    static double[][] LogRatios(SimulatedHorse horse, SimulatedVisits visits, List<Imagined> changes)
    {
        var (n, columns) = (Kept.Length, changes.Count + 1);
        var size = 3 * n;
        var steady = horse.With(Fate.Steady, 0);
        var state = new double[size, columns];
        var covariance = new double[size, size];
        // Levels are as good as unknown: a thousand sds of one visit.
        for (var i = 0; i < n; i++)
            covariance[i, i] = 1e6 * Math.Pow(Layer(i, r => r.VisitSd), 2);
        for (var h = 1; h <= 2; h++)
            AddLayer(covariance, h * n, r => r.PersonSd, 1);
        var ratios = new double[visits.Days.Length][];
        var sums = new double[changes.Count];
        for (var v = 0; v < visits.Days.Length; v++)
        {
            var season = steady.Measures(visits.Days[v]);
            var innovation = new double[n, columns];
            for (var i = 0; i < n; i++)
            {
                innovation[i, 0] = visits.Mean(Kept[i], v) - season[Kept[i]];
                for (var c = 1; c < columns; c++)
                    innovation[i, c] = changes[c - 1].Shift[v][Kept[i]];
            }
            Update(state, covariance, innovation, visits, v, sums);
            ratios[v] = (double[])sums.Clone();
        }
        return ratios;

        double Layer(int i, Func<NoiseRule, double> layer) => SimulatedVisits.Sd(Kept[i], visits.Reference[Kept[i]], layer);

        void AddLayer(double[,] to, int at, Func<NoiseRule, double> layer, double share)
        {
            for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                to[at + i, at + j] += share * Layer(i, layer) * Layer(j, layer) * SimulatedVisits.Correlation(Kept[i], Kept[j]);
        }

        void Update(double[,] x, double[,] p, double[,] innovation, SimulatedVisits at, int v, double[] totals)
        {
            var hands = (1 + at.Hands[v]) * n;
            var f = new double[n, n];
            AddLayer(f, 0, r => r.VisitSd, 1);
            AddTraces(f, at.Tracings[v]);
            var ph = new double[size, n];
            for (var a = 0; a < size; a++)
            for (var i = 0; i < n; i++)
                ph[a, i] = p[a, i] + p[a, hands + i];
            for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                f[i, j] += ph[i, j] + ph[hands + i, j];
            for (var i = 0; i < n; i++)
            for (var c = 0; c < columns; c++)
                innovation[i, c] -= x[i, c] + x[hands + i, c];
            var l = Cholesky(f, n);
            Forward(l, innovation, n, columns);
            for (var c = 1; c < columns; c++)
            {
                double cross = 0,
                    square = 0;
                for (var i = 0; i < n; i++)
                {
                    cross += innovation[i, c] * innovation[i, 0];
                    square += innovation[i, c] * innovation[i, c];
                }
                totals[c - 1] += cross - square / 2;
            }
            // Gain in whitened form: K ν = W z with W = P Hᵀ L⁻ᵀ and z = L⁻¹ ν.
            var w = new double[size, n];
            for (var a = 0; a < size; a++)
            for (var i = 0; i < n; i++)
            {
                var sum = ph[a, i];
                for (var k = 0; k < i; k++)
                    sum -= l[i, k] * w[a, k];
                w[a, i] = sum / l[i, i];
            }
            for (var a = 0; a < size; a++)
            {
                for (var i = 0; i < n; i++)
                for (var c = 0; c < columns; c++)
                    x[a, c] += w[a, i] * innovation[i, c];
                for (var b = 0; b < size; b++)
                {
                    double sum = 0;
                    for (var i = 0; i < n; i++)
                        sum += w[a, i] * w[b, i];
                    p[a, b] -= sum;
                }
            }
        }

        void AddTraces(double[,] f, int tracings)
        {
            for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
            {
                var count = Kept[i] >= Watchlist.Weight || Kept[j] >= Watchlist.Weight ? 1 : tracings;
                f[i, j] += Layer(i, r => r.TraceSd) * Layer(j, r => r.TraceSd) * SimulatedVisits.Correlation(Kept[i], Kept[j]) / count;
            }
        }
    }

    static double[,] Cholesky(double[,] a, int n)
    {
        var l = new double[n, n];
        for (var i = 0; i < n; i++)
        for (var j = 0; j <= i; j++)
        {
            var sum = a[i, j];
            for (var k = 0; k < j; k++)
                sum -= l[i, k] * l[j, k];
            l[i, j] = i == j ? Math.Sqrt(sum) : sum / l[j, j];
        }
        return l;
    }

    static void Forward(double[,] l, double[,] b, int n, int columns)
    {
        for (var i = 0; i < n; i++)
        for (var c = 0; c < columns; c++)
        {
            var sum = b[i, c];
            for (var k = 0; k < i; k++)
                sum -= l[i, k] * b[k, c];
            b[i, c] = sum / l[i, i];
        }
    }
}
