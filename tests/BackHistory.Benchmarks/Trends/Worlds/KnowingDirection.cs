using BackHistory.Trends.Rules;
using MathNet.Numerics.LinearAlgebra;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>
/// A judge who knows the world: how the differences of two visits of a steady horse scatter together in it, and where this horse's change
/// would lead. Its score is the linear discriminant (Fisher 1936, Ann. Eugenics 7:179) of that change. It does not know whether the horse
/// changes, nor when, and weighs one visit against the fit.
/// </summary>
sealed class KnowingDirection
{
    readonly List<(string Key, string? Station)> _keys;
    readonly Matrix<double> _precision;

    /// <param name="steady">Horses that are not judged afterwards.</param>
    internal KnowingDirection(IReadOnlyList<WorldVisits> steady)
    {
        _keys =
        [
            .. steady[0]
                .Truth[0]
                .Keys.Where(k => WatchRules.Default.ThresholdOf(k.Key) is not null && k.Key is not ("opening" or "skew-slope"))
                .OrderBy(k => k.Key, StringComparer.Ordinal)
                .ThenBy(k => k.Station, StringComparer.Ordinal),
        ];
        var n = _keys.Count;
        var scatter = Matrix<double>.Build.Dense(n, n);
        double count = 0;
        foreach (var row in steady.SelectMany(WorldJudges.Changes).Select(Row))
        {
            scatter += row.OuterProduct(row);
            count++;
        }
        scatter /= count;
        // A tenth of each variance keeps a matrix of few horses from seeing what is not there (ridge, engineering choice).
        for (var i = 0; i < n; i++)
            scatter[i, i] = scatter[i, i] * 1.1 + 1e-3;
        _precision = scatter.Inverse();
    }

    Vector<double> Row(Dictionary<(string Key, string? Station), double> changes) =>
        Vector<double>.Build.Dense([.. _keys.Select(k => changes.GetValueOrDefault(k))]);

    /// <param name="direction">The change that this horse would show, in limits.</param>
    internal double[] Scores(WorldVisits told, IReadOnlyDictionary<(string Key, string? Station), double> direction)
    {
        var towards = _precision * Vector<double>.Build.Dense([.. _keys.Select(k => direction.GetValueOrDefault(k))]);
        var size = Math.Sqrt(towards * Vector<double>.Build.Dense([.. _keys.Select(k => direction.GetValueOrDefault(k))]));
        return [.. WorldJudges.Changes(told).Select(c => towards * Row(c) / Math.Max(size, 1e-9))];
    }

    /// <summary>From the fit to the completion of the change.</summary>
    internal static Dictionary<(string Key, string? Station), double> DirectionOf(WorldLife life)
    {
        var after = Array.FindIndex(life.Told.Days, d => d >= life.Horse.Complete);
        var last = after < 0 ? life.Told.Days.Length - 1 : after;
        var direction = new Dictionary<(string Key, string? Station), double>();
        foreach (var (key, was) in life.Told.Truth[WorldLife.Fit])
            if (WatchRules.Default.ThresholdOf(key.Key) is { } limit && life.Told.Truth[last].TryGetValue(key, out var value))
                direction[key] = (value - was) / limit.At(was);
        return direction;
    }
}
