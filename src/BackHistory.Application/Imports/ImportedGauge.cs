using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>The table of a gauge that an import made: under which id it is written down, and how it is taken back. Pure.</summary>
/// <param name="Over">It stands in the place of a table that was in use; else the gauge was new, or out of use.</param>
internal sealed record ImportedGauge(string Key, int Version, bool Over)
{
    /// <summary>A gauge has a key and no id: the id follows from what it is.</summary>
    public MadeByImport Made(Guid practiceId) => new(MadeAs.Gauge, practiceId, Id);

    private Guid Id => DeterministicId.From("imported gauge", Key, Version.ToString(CultureInfo.InvariantCulture), Over ? "over" : "new");

    /// <summary>The same table: it need not be entered.</summary>
    public static bool IsSame(GaugeTable one, ChangeGaugeTable other) =>
        one.Measure == other.Measure
        && one.Unit == other.Unit
        && one.Marks.OrderBy(m => m.Position).SequenceEqual(other.Marks.OrderBy(m => m.Position));

    /// <param name="versions">Of every gauge of the practice.</param>
    /// <param name="read">Keys of gauges in which a saddle that stands is read.</param>
    public static Decided TakeBack(
        Practice? practice,
        MadeByImport made,
        IReadOnlyList<GaugeTableChanged> versions,
        IReadOnlySet<string> read,
        string reason,
        Caller by
    )
    {
        if (practice is null || Find(practice, made.Id) is not { } entered || practice.Gauges[entered.Key] is { Retired: true })
            return Decided.Yes();
        if (practice.Gauges[entered.Key].Version != entered.Version)
            return Decided.No(
                "gauge-changed",
                "Its table was changed since. Put it out of use on the page of the gauges, if it is not wanted.",
                RefusalKind.Conflict
            );
        var (actor, now) = (by.Context.Actor, by.Context.Now);
        if (entered.Over && versions.FirstOrDefault(v => v.Key == entered.Key && v.TableVersion == entered.Version - 1) is { } before)
            return PracticeDecider.Decide(
                practice,
                new ChangeGaugeTable(before.Key, before.Name, before.Measure, before.Unit, before.Marks, reason, actor),
                now
            );
        return read.Contains(entered.Key)
            ? Decided.No("gauge-in-use", "The settings of a saddle are read in it.", RefusalKind.Conflict)
            : PracticeDecider.Decide(practice, new RetireGaugeTable(entered.Key, reason, actor), now);
    }

    private static ImportedGauge? Find(Practice practice, Guid id) =>
        practice
            .Gauges.Values.SelectMany(g => Enumerable.Range(1, g.Version).Select(v => (g.Key, Version: v)))
            .SelectMany(g => (ImportedGauge[])[new(g.Key, g.Version, Over: false), new(g.Key, g.Version, Over: true)])
            .FirstOrDefault(g => g.Id == id);
}
