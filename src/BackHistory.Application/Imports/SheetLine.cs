using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.Shape;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>One line under its mapping: fields are asked for, and the first cell that cannot be read is remembered.</summary>
internal sealed class SheetLine(SheetRow row, IReadOnlyDictionary<string, (int Column, string Header)> columns, CellReader reader)
{
    public int Number => row.Line;

    public Refused? Refused { get; private set; } = row.Problem is { } problem ? Refusing(problem) : null;

    /// <summary>What a reader of tables refuses, as an import answers it.</summary>
    public static Refused Refusing(Refusal refusal) =>
        new(refusal.Code, refusal.Message, Place: refusal.Code == SheetRefusals.UnknownSheet ? "sheet" : null);

    /// <summary>The header of the cell that cannot be read.</summary>
    public string? Column { get; private set; }

    public string? Text(string field) =>
        Read<string>(
            field,
            cell => (CellReader.Unreadable(cell) ?? EnteredText.Problem(cell.Text)) is { } bad ? (null, bad) : (cell.Text.Normalize(), null)
        );

    public DateOnly? Date(string field) => Read<DateOnly?>(field, reader.Date);

    public double? Value(string field) => Read<double?>(field, reader.Number);

    public double? Millimetres(string field) => Read<double?>(field, reader.Length);

    public double? Kilograms(string field) => Read<double?>(field, reader.Weight);

    /// <summary>What is wrong with a value that could be read.</summary>
    public void Refuse(string field, Refused refused)
    {
        if (Refused is not null)
            return;
        (Refused, Column) = (refused, columns.TryGetValue(field, out var at) ? at.Header : null);
    }

    private T? Read<T>(string field, Func<Cell, (T?, Refused?)> read)
    {
        if (!columns.TryGetValue(field, out var at) || row[at.Column] is not { Kind: not CellKind.Empty } cell)
            return default;
        var (value, bad) = read(cell);
        if (bad is not null)
            Refuse(field, bad);
        return value;
    }

    /// <summary>The mapping as columns, or what is wrong with it.</summary>
    public static (IReadOnlyDictionary<string, (int, string)>? Columns, Refused? Refused) Columns(Sheet sheet, ImportPlan plan)
    {
        var fields = ImportFields.Of[plan.Kind];
        var columns = new Dictionary<string, (int, string)>(StringComparer.Ordinal);
        foreach (var (header, field) in plan.Columns)
        {
            var at = sheet.Headers.ToList().FindIndex(h => string.Equals(h, header, StringComparison.OrdinalIgnoreCase));
            if (at < 0)
                return (null, new Refused("no-such-column", $"There is no column '{header}'.", Place: "columns"));
            if (fields.All(f => f.Key != field))
                return (null, new Refused("no-such-field", $"'{field}' is no field of {plan.Kind}.", Place: "columns"));
            if (!columns.TryAdd(field, (at, sheet.Headers[at])))
                return (null, new Refused("field-twice", $"Two columns are said to be '{field}'.", Place: "columns"));
        }

        return fields.FirstOrDefault(f => f.Needed && !columns.ContainsKey(f.Key)) is { } missing
            ? (null, new Refused("field-missing", $"Say which column is '{missing.Key}': {missing.Says}.", Place: "columns"))
            : (columns, null);
    }
}
