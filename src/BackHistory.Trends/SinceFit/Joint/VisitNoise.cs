using System.Runtime.InteropServices;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// How all measures of a visit err together, in thresholds: a sum of independent layers, each with a variance of its own, so that no
/// correlation has to be held down for the whole to be a covariance. What each measure errs by alone (<see cref="OwnNoise"/>); what stance
/// and breathing do to one flank, to a station, and to the whole back; how far the visit leans, which all its stations share, and how far
/// each station leans beside that.
/// Readings by inclinometer go by gravity and lean with nothing: they tell a lean from a change.
/// </summary>
internal sealed class VisitNoise
{
    /// <summary>A station's own lean beside that of its visit, degrees (rule of thumb).</summary>
    const double StationLean = 0.5;

    /// <summary>The least share of a measure's noise that is its own (engineering choice, no source).</summary>
    const double LeastOwn = 1.0 / 3;

    /// <summary>How far a back moves when it matters, in limits: for the scatter of loadings in the weights.</summary>
    const double TypicalSize = 1.5;

    readonly VisitTable _table;
    readonly MovementPrior _movement;
    readonly bool[] _bears;
    readonly string?[] _stations;
    readonly double[] _gains;
    readonly double _leanVariance;

    /// <summary>What stance moves each measure by where it turns the flanks by <see cref="FlankSd"/>, limits; not a number where the
    /// contour is not known.</summary>
    readonly double[] _stance;

    /// <summary>What a station off its place by one sd does to each, limits.</summary>
    readonly double[] _along;

    /// <summary>What a flank that turns by itself by one sd moves each measure of its side by, limits; 0 where the contour is not
    /// known.</summary>
    readonly double[] _flank;

    /// <summary>Share of a visit's noise that turns each flank by itself: a hoof put forward, a curve pressed harder on one side (rule of
    /// thumb).</summary>
    const double OneFlank = 0.2;

    /// <summary>On the variance that the rules expect each to err by alone, and the mean variance of a visit's value of each.</summary>
    readonly double[] _own,
        _usual;

    /// <summary>Of a station along the back from visit to visit, mm (rule of thumb; published scatter is 30 to 50).</summary>
    const double PlaceSd = 20;

    /// <summary>Shares of stance in the noise, of the whole back and of a station.</summary>
    readonly double _wholeBack,
        _sameStation;
    readonly Dictionary<int, double[]> _factors = [];
    readonly List<(int[] Members, double[] Variances)> _kinds = [];
    readonly int[] _kindOf;

    internal VisitNoise(VisitTable table, IReadOnlyList<WatchedSeries> series, double[] thresholds, WatchRules rules)
    {
        (_table, _movement) = (table, rules.Movement);
        // On a known contour the size of stance follows from geometry, and not from how strongly measures go together: what a practice has
        // learned of that holds lean and habits of hands as well.
        var known = series.Any(s => s.Contour is not null);
        _wholeBack = known ? Math.Min(_movement.WholeBack, MovementPrior.RuleOfThumb.WholeBack) : _movement.WholeBack;
        _sameStation = known ? Math.Min(_movement.SameStation, MovementPrior.RuleOfThumb.SameStation) : _movement.SameStation;
        _bears = [.. series.Select(s => !WatchedPattern.IsDerived(s, series, rules))];
        _stations = [.. series.Select(s => s.Station)];
        _gains = [.. series.Select((s, i) => thresholds[i] > 0 ? Turning.PerDegree(s, series) / thresholds[i] : 0)];
        var slopes = SlopeVariance(series);
        var share = Math.Min(0.95, _movement.WholeLean);
        _leanVariance = slopes * share / (1 - share);
        var flanks = _stations
            .OfType<string>()
            .Distinct(StringComparer.Ordinal)
            .ToDictionary(s => s, s => FlankSd(series, s), StringComparer.Ordinal);
        _stance =
        [
            .. series.Select(
                (s, i) =>
                    s is { Contour: { } contour, Station: { } station } && thresholds[i] > 0 && table.Breathes[i] != 0
                        ? contour.FlanksTurn / thresholds[i] * flanks[station]
                        : double.NaN
            ),
        ];
        _flank =
        [
            .. series.Select(
                (s, i) =>
                    s is { Contour: { } contour, Station: { } station } && thresholds[i] > 0 && table.Sides[i] != 0
                        ? (table.Sides[i] < 0 ? contour.LeftFlank : contour.RightFlank)
                            / thresholds[i]
                            * flanks[station]
                            * Math.Sqrt(OneFlank)
                        : 0
            ),
        ];
        _along = [.. series.Select((s, i) => s.Contour is { } contour && thresholds[i] > 0 ? contour.Along / thresholds[i] * PlaceSd : 0)];
        _kindOf = [.. Enumerable.Range(0, table.Days.Length).Select(KindOf)];
        _usual = [.. Enumerable.Range(0, series.Count).Select(UsualVariance)];
        // Without the contour what measures share is known by a correlation only, and what is left for each is no figure to learn from.
        _own = known ? OwnNoise.Factors(table, this, [.. series.Select(s => s.Measure)]) : [.. series.Select(_ => 1.0)];
    }

    double UsualVariance(int i)
    {
        var (sum, n) = (0.0, 0);
        foreach (var row in _table.Cells)
            if (row[i].Measured)
                (sum, n) = (sum + row[i].Variance, n + 1);
        return n == 0 ? 0 : sum / n;
    }

    /// <summary>Whether a series says something beyond others.</summary>
    internal bool Bears(int i) => _bears[i];

    /// <summary>What two measures of one visit share, squared limits.</summary>
    internal double SharedVariance(int i, int j) => SharedVariance(i, j, _usual[i], _usual[j]);

    double SharedVariance(int i, int j, double ofI, double ofJ)
    {
        var lean = _gains[i] * _gains[j];
        var stance = StanceOf(i, ofI) * StanceOf(j, ofJ);
        var shared = _leanVariance * lean + _wholeBack * stance;
        if (SameStation(i, j))
            shared += StationLean * StationLean * lean + _sameStation * stance + _along[i] * _along[j];
        if (SameStation(i, j) && _table.Sides[i] == _table.Sides[j])
            shared += _flank[i] * _flank[j];
        return shared;
    }

    /// <summary>What a measure errs by alone at a usual visit, by the rules, squared limits.</summary>
    internal double ExpectedOwn(int i) => ExpectedOwn(i, _usual[i]);

    /// <summary>Of a visit, squared degrees.</summary>
    internal double LeanSd => Math.Sqrt(_leanVariance);

    /// <summary>
    /// Of one tracing's slopes, squared degrees. Lean is told by the correlation that it gives to slopes of one side at different stations:
    /// lean over lean and everything else.
    /// </summary>
    static double SlopeVariance(IReadOnlyList<WatchedSeries> series)
    {
        double sum = 0;
        var n = 0;
        foreach (var s in series)
            if (Turning.SlopesOfSide(s.Measure))
            {
                sum += s.Noise.VisitSd * s.Noise.VisitSd + s.Observations.Average(o => o.Sd * o.Sd);
                n++;
            }
        return n == 0 ? DefaultSlopeVariance : sum / n;
    }

    /// <summary>
    /// Degrees of the flanks that the noise between visits is worth at a station: of all its measures by inverse variance, for what is
    /// said of widths and what is said of slopes were never taken from one horse (engineering choice, no source).
    /// </summary>
    double FlankSd(IReadOnlyList<WatchedSeries> series, string station)
    {
        double sum = 0;
        var n = 0;
        for (var i = 0; i < series.Count; i++)
        {
            var s = series[i];
            if (
                s.Contour is not { } contour
                || _table.Breathes[i] == 0
                || !Turning.OfSection(s.Measure)
                || !string.Equals(s.Station, station, StringComparison.Ordinal)
            )
                continue;
            var variance = s.Noise.VisitSd * s.Noise.VisitSd;
            if (variance <= 0 || contour.FlanksTurn == 0)
                continue;
            sum += contour.FlanksTurn * contour.FlanksTurn / variance;
            n++;
        }
        return n == 0 ? 0 : Math.Sqrt(n / sum);
    }

    /// <summary>Of one tracing by the shipped rules, squared degrees: for horses whose slopes are not watched.</summary>
    const double DefaultSlopeVariance = 3.25;

    /// <summary>Visits that measured the same with the same noise are one kind: what is worked out for one holds for all.</summary>
    int KindOf(int visit)
    {
        var cells = _table.Cells[visit];
        int[] members = [.. Enumerable.Range(0, cells.Length).Where(i => _bears[i] && cells[i].Measured)];
        double[] variances = [.. members.Select(i => cells[i].Variance)];
        for (var k = 0; k < _kinds.Count; k++)
            if (_kinds[k].Members.AsSpan().SequenceEqual(members) && _kinds[k].Variances.AsSpan().SequenceEqual(variances))
                return k;
        _kinds.Add((members, variances));
        return _kinds.Count - 1;
    }

    /// <summary>The series that bear on every pattern at a visit.</summary>
    internal ReadOnlySpan<int> MembersAt(int visit) => _kinds[_kindOf[visit]].Members;

    internal int Kind(int visit) => _kindOf[visit];

    /// <summary>
    /// The weights by which a visit's values tell the size of a pattern, and the variance of that size: generalised least squares over
    /// everything that was measured. That the loadings of a horse are known to a part only keeps two measures that err together from
    /// being played off against each other.
    /// </summary>
    /// <param name="loadings">Of every series; 0 for those that the pattern leaves alone.</param>
    internal (double[] Weights, double Variance) WeightsFor(ReadOnlySpan<double> loadings, int kind, double scatter)
    {
        var (members, variances) = _kinds[kind];
        var n = members.Length;
        var weights = new double[n];
        for (var a = 0; a < n; a++)
            weights[a] = loadings[members[a]];
        if (scatter == 0)
            Solve(PlainFactor(kind), weights);
        else
        {
            var factor = Covariance(members, variances);
            for (var a = 0; a < n; a++)
            {
                var loose = scatter * TypicalSize * loadings[members[a]];
                factor[a * n + a] += loose * loose;
            }
            Factor(factor, n);
            Solve(factor, weights);
        }
        double size = 0;
        for (var a = 0; a < n; a++)
            size += weights[a] * loadings[members[a]];
        for (var a = 0; a < n; a++)
            weights[a] /= size;
        return (weights, Variance(weights, kind));
    }

    /// <summary>w' Σ w.</summary>
    double Variance(double[] weights, int kind)
    {
        var (members, variances) = _kinds[kind];
        double sum = 0;
        for (var a = 0; a < members.Length; a++)
        {
            var i = members[a];
            sum += weights[a] * weights[a] * (OwnVariance(i, variances[a]) + SharedVariance(i, i, variances[a], variances[a]));
            for (var b = 0; b < a; b++)
                sum += 2 * weights[a] * weights[b] * SharedVariance(i, members[b], variances[a], variances[b]);
        }
        return sum;
    }

    /// <summary>What a pair of hands brings to a pattern's size: it is shared as the noise of a visit is, and no hand leans.</summary>
    internal double PersonVariance(ReadOnlySpan<double> weights, int kind)
    {
        var members = _kinds[kind].Members;
        double sum = 0;
        for (var a = 0; a < members.Length; a++)
        for (var b = 0; b < members.Length; b++)
        {
            var (i, j) = (members[a], members[b]);
            var shared = a == b ? 1 : Shared(i, j);
            if (shared != 0)
                sum += weights[a] * weights[b] * shared * Math.Sqrt(_table.PersonVariance[i] * _table.PersonVariance[j]);
        }
        return sum;
    }

    /// <summary>
    /// What stance and breathing move a measure by, limits, before their shares. On a known contour a degree of the flanks moves the width
    /// by so many millimetres, whatever the noise of widths was taken for; on an unknown one it is the sd of the measure.
    /// </summary>
    double StanceOf(int i, double variance) => double.IsNaN(_stance[i]) ? _table.Breathes[i] * Math.Sqrt(variance) : _stance[i];

    /// <summary>What is left of the noise of a measure for itself; a third at least, for hands shake too.</summary>
    double ExpectedOwn(int i, double variance)
    {
        var stance = StanceOf(i, variance);
        return Math.Max(LeastOwn * variance, variance - (_wholeBack + _sameStation) * stance * stance - _flank[i] * _flank[i]);
    }

    double OwnVariance(int i, double variance) => _own[i] * ExpectedOwn(i, variance);

    bool SameStation(int i, int j) => string.Equals(_stations[i], _stations[j], StringComparison.Ordinal);

    double Shared(int i, int j) => _table.Breathes[i] * _table.Breathes[j] * (_wholeBack + (SameStation(i, j) ? _sameStation : 0));

    double[] Covariance(int[] members, double[] variances)
    {
        var n = members.Length;
        var covariance = new double[n * n];
        for (var a = 0; a < n; a++)
        for (var b = 0; b <= a; b++)
        {
            var (i, j) = (members[a], members[b]);
            covariance[a * n + b] = SharedVariance(i, j, variances[a], variances[b]) + (a == b ? OwnVariance(i, variances[a]) : 0);
        }
        return covariance;
    }

    double[] PlainFactor(int kind)
    {
        ref var factor = ref CollectionsMarshal.GetValueRefOrAddDefault(_factors, kind, out var known);
        if (!known)
        {
            factor = Covariance(_kinds[kind].Members, _kinds[kind].Variances);
            Factor(factor, _kinds[kind].Members.Length);
        }
        return factor!;
    }

    /// <summary>Cholesky, in place, of the lower half.</summary>
    internal static void Factor(double[] m, int n)
    {
        for (var i = 0; i < n; i++)
        for (var j = 0; j <= i; j++)
        {
            var sum = m[i * n + j];
            for (var k = 0; k < j; k++)
                sum -= m[i * n + k] * m[j * n + k];
            m[i * n + j] = i == j ? Math.Sqrt(sum) : sum / m[j * n + j];
        }
    }

    internal static void Solve(double[] factor, double[] u)
    {
        var n = u.Length;
        for (var i = 0; i < n; i++)
        {
            var sum = u[i];
            for (var k = 0; k < i; k++)
                sum -= factor[i * n + k] * u[k];
            u[i] = sum / factor[i * n + i];
        }
        for (var i = n - 1; i >= 0; i--)
        {
            var sum = u[i];
            for (var k = i + 1; k < n; k++)
                sum -= factor[k * n + i] * u[k];
            u[i] = sum / factor[i * n + i];
        }
    }
}
