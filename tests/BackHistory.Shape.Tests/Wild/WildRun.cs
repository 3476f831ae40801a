using BackHistory.Shape.Analysis;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Tests.Reference;

namespace BackHistory.Shape.Tests.Wild;

/// <summary>
/// Holds the measures of many noisy tracings of made-up backs against a general spline's, and both against the truth. A measure differs
/// when it lies more than four root mean square errors of tracings of its kind away from the general spline's.
/// </summary>
internal sealed class WildRun
{
    private const double Errors = 4;

    /// <summary>
    /// So much of a general spline's line, in points 1 mm apart, is cut off at each end to say what a tracing covers beyond doubt.
    /// </summary>
    private const int Doubtful = 8;

    private readonly List<Compared> compared = [];

    /// <param name="Theirs">the general spline's; null where that does not cover it</param>
    private sealed record Compared(WildTracing Of, string Measure, double Ours, double Sd, bool Flagged, double? Theirs, double Truth);

    internal int Tracings { get; private set; }

    /// <summary>Dense points that lie as far apart as they are noisy tie loops; ragged ones cut a sharp ridge off.</summary>
    internal int Refused { get; private set; }

    /// <summary>Of these the ones whose points were good and whose curve was not.</summary>
    internal int Lost { get; private set; }

    /// <summary>Measures flagged as uncertain, and the tracings they are of.</summary>
    internal List<(WildTracing Of, Measure Measure)> Uncertain { get; } = [];

    /// <summary>Measures that were covered beyond doubt and have no value.</summary>
    internal int Missing { get; private set; }

    internal int Measures => compared.Count;

    /// <param name="backs">of each there are four tracings</param>
    internal static WildRun Of(int backs)
    {
        var run = new WildRun();
        Parallel.For(
            0,
            backs,
            new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount },
            back =>
            {
                foreach (var traced in WildTracing.Of(back))
                    run.Take(traced);
            }
        );
        return run;
    }

    private void Take(WildTracing traced)
    {
        var answer = TracingAnalysis.Analyse(traced.Tracing);
        if (answer.Refused is not null)
        {
            var lost = TracingRegistration.Register(traced.Tracing).Registered is null ? 0 : 1;
            lock (compared)
                (Tracings, Refused, Lost) = (Tracings + 1, Refused + 1, Lost + lost);
            return;
        }
        var points = traced.Tracing.Points;
        var line = GeneralSpline.Smooth(points[0].X < points[^1].X ? points : [.. points.Reverse()]);
        var (theirs, covered) = (PolylineMeasures.Of(line), PolylineMeasures.Of(line[Doubtful..^Doubtful]));
        var torn = answer.Flags.Any(f => f is { Flag: "gap", Length: > 60 });
        lock (compared)
        {
            Tracings++;
            foreach (var measure in answer.Measures.Where(m => traced.Truth.ContainsKey(m.Key)))
            {
                var flagged = answer.Flags.Any(f => f.Measure == measure.Key);
                double? their = theirs.TryGetValue(measure.Key, out var value) ? value : null;
                if (measure is { Value: { } ours, Sd: { } sd })
                    compared.Add(new(traced, measure.Key, ours, sd, flagged, their, traced.Truth[measure.Key]));
                else if (!torn && covered.ContainsKey(measure.Key))
                    Missing++;
            }
            foreach (var flag in answer.Flags.Where(f => f.Flag == "uncertain"))
                Uncertain.Add((traced, answer.Measures.Single(m => m.Key == flag.Measure)));
        }
    }

    internal IEnumerable<WildDifference> Differences()
    {
        foreach (var kind in compared.GroupBy(c => (c.Of.Kind, c.Measure)))
        {
            var error = RootMeanSquare(kind.Select(c => c.Ours - c.Truth));
            foreach (var c in kind)
                if (c.Theirs is { } theirs && Math.Abs(c.Ours - theirs) > Errors * error)
                    yield return new(c.Of, c.Measure, c.Ours, c.Sd, c.Flagged, theirs, c.Truth);
        }
    }

    /// <summary>Without the largest hundredth, and one at least: what is wrong shall not count as usual.</summary>
    private static double RootMeanSquare(IEnumerable<double> errors)
    {
        var squares = errors.Select(e => e * e).Order().ToArray();
        var usual = squares.Take(squares.Length - Math.Max(1, squares.Length / 100));
        return Math.Sqrt(usual.DefaultIfEmpty(double.PositiveInfinity).Average());
    }
}
