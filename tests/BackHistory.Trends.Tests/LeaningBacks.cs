using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Tests;

/// <summary>One visit of a horse with four stations, as it was. Degrees.</summary>
/// <param name="Lean">How far the sheet or the horse was turned clockwise, seen from behind.</param>
/// <param name="LeftLost">By how much the left side has steepened at each station since the first visit.</param>
/// <param name="Narrowed">By how much both sides have steepened.</param>
/// <param name="StationLean">By how much each station was turned beside that.</param>
/// <param name="Read">Both sides were read by inclinometer behind the shoulder.</param>
internal sealed record LeaningVisitAsItWas(
    double Day,
    double Lean = 0,
    double[]? LeftLost = null,
    double Narrowed = 0,
    bool Read = false,
    double[]? StationLean = null
)
{
    /// <summary>The same loss at every station.</summary>
    internal static double[] Everywhere(double degrees) => [degrees, degrees, degrees, degrees];
}

/// <summary>
/// Backs of straight flanks traced by sheets that lean. Everything in closed form: a flank that falls at angle α has reach D·cot α and
/// half area ½·D²·cot α at depth D, and turned by θ it falls at α ± θ.
/// </summary>
internal static class LeaningBacks
{
    internal static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];
    static readonly double[] Slopes = [50, 47, 40, 35];
    const double Depth = 100;

    /// <summary>What a tracing without noise would measure.</summary>
    /// <param name="noise">Added to a value: measure, index of the station, size of the value. Null = none.</param>
    internal static List<WatchedSeries> Of(
        IReadOnlyList<LeaningVisitAsItWas> visits,
        WatchRules rules,
        Func<int, string, int, double, double>? noise = null
    )
    {
        var values = new Dictionary<(string Measure, int Station), List<(double Day, double Value)>>();
        for (var v = 0; v < visits.Count; v++)
        {
            var visit = visits[v];
            for (var s = 0; s < Stations.Length; s++)
            {
                var (left, right) = (Slopes[s] + visit.Narrowed + (visit.LeftLost?[s] ?? 0), Slopes[s] + visit.Narrowed);
                var lean = visit.Lean + (visit.StationLean?[s] ?? 0);
                var (tracedLeft, tracedRight) = (left - lean, right + lean);
                Add("slope-left", tracedLeft);
                Add("slope-right", tracedRight);
                Add("width@100", Depth * (Cot(tracedLeft) + Cot(tracedRight)));
                Add("half-area-left@100", Depth * Depth * Cot(tracedLeft) / 200);
                Add("half-area-right@100", Depth * Depth * Cot(tracedRight) / 200);
                if (!visit.Read || s != 1)
                    continue;
                Add("read-slope-left", left);
                Add("read-slope-right", right);

                void Add(string measure, double value)
                {
                    if (!values.TryGetValue((measure, s), out var list))
                        values[(measure, s)] = list = [];
                    list.Add((visit.Day, value + (noise?.Invoke(v, measure, s, value) ?? 0)));
                }
            }
        }
        return
        [
            .. values.Select(x =>
            {
                var (sd, layers) = rules.NoiseOf(x.Key.Measure)!.At(x.Value[0].Value);
                var unit = x.Key.Measure.Split('@', '-')[0] switch
                {
                    "half" => "cm2",
                    "width" => "mm",
                    _ => "deg",
                };
                return new WatchedSeries(
                    x.Key.Measure,
                    Stations[x.Key.Station],
                    unit,
                    [.. x.Value.Select(o => new Observation(o.Day, o.Value, sd, "ann"))],
                    layers,
                    rules.ThresholdOf(x.Key.Measure)!
                );
            }),
        ];
    }

    /// <summary>
    /// By how many degrees the left side steepens at each station when its half area within the depth falls by this share.
    /// </summary>
    internal static double[] Losing(double share) =>
        [.. Slopes.Select(s => Math.Atan(Math.Tan(s * Math.PI / 180) / (1 - share)) * 180 / Math.PI - s)];

    static double Cot(double degrees) => 1 / Math.Tan(degrees * Math.PI / 180);
}
