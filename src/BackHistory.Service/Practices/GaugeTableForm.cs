using BackHistory.Service.Web;
using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Practices;

/// <summary>The table of a gauge as it is typed or pasted into a page.</summary>
public sealed class GaugeTableForm : TypedForm
{
    /// <summary>The button that takes the pasted columns over into the table.</summary>
    public const string Fill = "fill";

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
    internal IReadOnlyList<GaugeMark> Read(FieldReader fields)
    {
        var rows = Marks.Index().Where(m => !m.Item.IsEmpty).ToList();
        var numbered = rows.All(r => GaugePaste.Number(r.Item.Name) is not null);
        var marks = new List<(int Row, GaugeMark Mark)>();
        foreach (var (count, (i, row)) in rows.Index())
        {
            var name = fields.Needed($"m-{i}", row.Name, "Say what is engraved there.");
            var typed = fields.Number($"p-{i}", row.Position);
            var position = typed ?? (numbered ? GaugePaste.Number(name)!.Value : count);
            fields.Needed($"v-{i}", row.Value, "Say what it measures there.");
            if (fields.Number($"v-{i}", row.Value) is { } value)
                marks.Add((i, new GaugeMark(name, position, value)));
        }

        if (fields.AllRead)
            SayWhereItTurns(marks, fields);
        return [.. marks.Select(m => m.Mark)];
    }

    /// <summary>A gauge only rises or only falls, as its ends say, and no two marks lie on one place.</summary>
    private static void SayWhereItTurns(List<(int Row, GaugeMark Mark)> marks, FieldReader fields)
    {
        var table = marks.OrderBy(m => m.Mark.Position).ToList();
        if (table.Count < 2)
            return;
        var rising = table[^1].Mark.Value > table[0].Mark.Value;
        foreach (var ((_, before), (row, mark)) in table.Zip(table.Skip(1)))
        {
            if (mark.Position == before.Position)
                fields.Refuse($"p-{row}", $"On the same place as “{before.Name}”.");
            else if (mark.Value == before.Value || mark.Value > before.Value != rising)
                fields.Refuse($"v-{row}", $"It turns round after “{before.Name}”: a gauge only rises or only falls.");
        }
    }
}
