using BackHistory.History.Practices;
using BackHistory.Service.Web;
using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Practices;

/// <summary>The table of a gauge as it is typed or pasted into a page.</summary>
public sealed class GaugeTableForm : TypedForm
{
    /// <summary>The button that takes the pasted columns over into the table.</summary>
    public const string Fill = "fill";

    /// <summary>What a script presses while somebody types: what is wrong is said, and nothing is saved.</summary>
    public const string Check = "check";

    /// <summary>The button that adds empty rows.</summary>
    public const string More = "more";

    public string? Name { get; set; }

    public string? Measure { get; set; }

    public string? Unit { get; set; }

    public string? Reason { get; set; }

    public string? Pasted { get; set; }

    /// <summary>Which button was pressed; empty for the one that saves.</summary>
    public string? Press { get; set; }

    public List<GaugeMarkForm> Marks
    {
        get;
        set => field = Sent(value);
    } = [];

    /// <summary>Reads the rows that hold something; what is wrong with a row is said at the id of one of its fields.</summary>
    /// <param name="typing">A row that is not finished is no fault yet.</param>
    internal IReadOnlyList<GaugeMark> Read(FieldReader fields, bool typing = false)
    {
        var rows = Marks.Index().Where(m => !m.Item.IsEmpty).ToList();
        var places = GaugeShape.Places([.. rows.Select(r => (r.Item.Name, fields.Number($"p-{r.Index}", r.Item.Position)))]);
        var marks = new List<(int Row, GaugeMark Mark)>();
        foreach (var ((i, row), place) in rows.Zip(places))
        {
            var begun = typing && string.IsNullOrWhiteSpace(row.Value);
            var name = begun ? row.Name ?? "" : fields.Needed($"m-{i}", row.Name, "Say what is engraved there.");
            if (!begun)
                fields.Needed($"v-{i}", row.Value, "Say what it measures there.");
            if (fields.Number($"v-{i}", row.Value) is { } value)
                marks.Add((i, new GaugeMark(name, place, value)));
        }

        if (fields.AllRead)
        {
            foreach (var fault in GaugeShape.Faults([.. marks.Select(m => m.Mark)]))
                fields.Refuse($"{(fault.SamePlace ? 'p' : 'v')}-{marks[fault.Index].Row}", GaugeRefusals.OfFault(fault).Message);
        }

        return [.. marks.Select(m => m.Mark)];
    }
}
