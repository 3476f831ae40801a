using System.Diagnostics.Metrics;
using BackHistory.History.Reminders;

namespace BackHistory.Application;

/// <summary>What the jobs did, for whoever collects metrics (meter <c>BackHistory.Jobs</c>). No name of a person or horse is a
/// label.</summary>
public static class WorkMetrics
{
    private static readonly Meter Meter = new("BackHistory.Jobs");
    private static readonly Counter<long> Letters = Meter.CreateCounter<long>(
        "backhistory.letters",
        "{letter}",
        "Letters by kind and outcome"
    );
    private static readonly Counter<long> Horses = Meter.CreateCounter<long>("backhistory.evaluations", "{horse}", "Horses looked at");
    private static readonly Histogram<double> Runs = Meter.CreateHistogram<double>(
        "backhistory.evaluation.duration",
        "s",
        "One run over a practice"
    );

    private static readonly Gauge<double> Behind = Meter.CreateGauge<double>(
        "backhistory.evaluation.behind",
        "s",
        "Time since the practice that was evaluated longest ago"
    );

    public static void EvaluationsBehind(TimeSpan longest) => Behind.Record(longest.TotalSeconds);

    public static void Letter(LetterKind kind, string outcome) => Letters.Add(1, new("kind", kind.ToString()), new("outcome", outcome));

    public static void Evaluated(int horses, TimeSpan took)
    {
        Horses.Add(horses);
        Runs.Record(took.TotalSeconds);
    }
}
