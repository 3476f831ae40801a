using BackHistory.Application.Demo;
using BackHistory.Application.Trends;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Shape.Analysis;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Tests.Demo;

/// <summary>What the service says of one invented horse, beside what its back truly did since the saddle was set.</summary>
/// <param name="Reminders">All that were raised, with the letters that they owe.</param>
internal sealed record DemoAnswer(InventedHorse Horse, HorseRecord Record, IReadOnlyList<Reminder> Reminders)
{
    private static readonly InventedHand Exact = new(0, 0, 0);
    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];

    public Assessment Assessment => Record.Assessment!;

    public HorseDecision Decision => Assessment.Worst!.Decision;

    public Reminder? VetFirst => Reminders.FirstOrDefault(r => r is { Rule: ReminderRule.VetCaution, Over: false });

    /// <summary>Whether its owner is owed a letter that asks for the saddle to be set anew.</summary>
    public bool OwnerAskedForRefit => Reminders.Any(r => !r.Over && r.Post.Any(l => l.Kind == LetterKind.OwnerRefit));

    /// <summary>Per cent by which a side's half area has truly changed since the saddle was set, mean of the stations.</summary>
    public double TrulyOf(string side) =>
        Stations.Average(s => (Section(s, Assessment.AsOf)[Area(side)] / Section(s, Decision.BaselineOn)[Area(side)] - 1) * 100);

    /// <summary>
    /// How far its back, weight and condition have truly moved since the saddle was set, in parts of the limit: the measure that moved
    /// furthest.
    /// </summary>
    public double TrulyOfLimit() =>
        Moved()
            .Select(m => Record.Practice.WatchBy().ThresholdOf(m.Measure) is { } limit ? Math.Abs(m.Now - m.Then) / limit.At(m.Then) : 0)
            .Max();

    private static string Area(string side) => $"half-area-{side}@100";

    private IEnumerable<(string Measure, double Then, double Now)> Moved()
    {
        var (fit, today) = (Decision.BaselineOn, Assessment.AsOf);
        var life = Horse.Truth;
        foreach (var station in Stations)
        {
            var then = Section(station, fit);
            foreach (var (key, now) in Section(station, today))
                yield return (key, then[key], now);
        }

        yield return ("topline-drop", life.Topline(fit).Drop, life.Topline(today).Drop);
        yield return ("weight", life.Kilograms(fit), life.Kilograms(today));
        yield return ("condition", life.Condition(fit), life.Condition(today));
    }

    /// <summary>As a hand that errs in nothing would have traced it.</summary>
    private Dictionary<string, double> Section(string station, DateOnly on) =>
        TracingAnalysis
            .Analyse(InventedBack.Section(Horse.Truth.Section(station, on), station, Exact, new Chance(1)))
            .Measures.Where(m => m.Value is not null)
            .ToDictionary(m => m.Key, m => m.Value!.Value, StringComparer.Ordinal);
}
