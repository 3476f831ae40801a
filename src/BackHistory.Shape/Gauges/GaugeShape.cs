namespace BackHistory.Shape.Gauges;

/// <summary>What makes marks the table of a gauge, wherever they come from: each lies on a place of its own, and along the scale their
/// values only rise or only fall.</summary>
public static class GaugeShape
{
    public const int FewestMarks = 2;

    /// <summary>Where marks lie: on the place that is given, else on their own number where every name is one, else on their
    /// count.</summary>
    public static IReadOnlyList<double> Places(IReadOnlyList<(string? Name, double? Place)> marks)
    {
        var numbered = marks.All(m => GaugeText.Number(m.Name) is not null);
        return [.. marks.Select((m, count) => m.Place ?? (numbered ? GaugeText.Number(m.Name)!.Value : count))];
    }

    /// <returns>In the order of the scale; empty of fewer marks than a gauge has.</returns>
    public static IReadOnlyList<GaugeFault> Faults(IReadOnlyList<GaugeMark> marks)
    {
        var table = marks.Index().OrderBy(m => m.Item.Position).ToList();
        if (table.Count < FewestMarks)
            return [];
        // As its ends say.
        var rising = table[^1].Item.Value > table[0].Item.Value;
        return
        [
            .. table
                .Zip(table.Skip(1), (before, mark) => (before, mark))
                .Select(pair => FaultOf(pair.before.Item, pair.mark, rising))
                .OfType<GaugeFault>(),
        ];
    }

    private static GaugeFault? FaultOf(GaugeMark before, (int Index, GaugeMark Item) mark, bool rising) =>
        mark.Item.Position == before.Position ? new GaugeFault(mark.Index, mark.Item, before, SamePlace: true)
        : mark.Item.Value == before.Value || mark.Item.Value > before.Value != rising
            ? new GaugeFault(mark.Index, mark.Item, before, SamePlace: false)
        : null;
}
