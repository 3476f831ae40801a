using System.Globalization;
using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.Shape;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>One line under its mapping: fields are asked for, and every cell that cannot be read is remembered.</summary>
internal sealed class SheetLine(SheetRow row, IReadOnlyDictionary<string, (int Column, string Header)> columns, CellReader reader)
{
    private const int LongestShown = 120;

    private readonly List<(string? Field, Refused Refused)> _faults = row.Problem is { } problem ? [(null, Refusing(problem))] : [];

    private readonly Dictionary<string, string> _reads = new(StringComparer.Ordinal);

    public int Number => row.Line;

    /// <summary>The first fault.</summary>
    public Refused? Refused => _faults.Count == 0 ? null : _faults[0].Refused;

    /// <summary>The header of the first cell that cannot be read.</summary>
    public string? Column => _faults.Count == 0 ? null : HeaderOf(_faults[0].Field);

    /// <summary>Everything that is wrong with the line.</summary>
    /// <param name="shown">Whether the value of a field may be shown.</param>
    public IReadOnlyList<CellFault> Faults(Func<string, string, bool> shown) =>
        [
            .. _faults.Select(f => new CellFault(
                HeaderOf(f.Field),
                f.Field is { } field && Place(field) is { } at && Shown(row[at.Column]) is { } text && shown(field, text) ? text : null,
                f.Refused.Code,
                f.Refused.Message
            )),
        ];

    /// <summary>A cell as it stands, whether it can be read or not; null where it is empty.</summary>
    public string? Raw(string field) => columns.TryGetValue(field, out var at) ? Shown(row[at.Column]) : null;

    /// <summary>What a reader of tables refuses, as an import answers it.</summary>
    public static Refused Refusing(Refusal refusal) =>
        new(refusal.Code, refusal.Message, Place: refusal.Code == SheetRefusals.UnknownSheet ? "sheet" : null);

    public string? Text(string field) =>
        Read<string>(
            field,
            cell => (CellReader.Unreadable(cell) ?? EnteredText.Problem(cell.Text)) is { } bad ? (null, bad) : (cell.Text.Normalize(), null)
        );

    public DateOnly? Date(string field)
    {
        var day = Read<DateOnly?>(field, reader.Date);
        if (day is { } read)
            ReadsAs(field, read.ToString("d MMMM yyyy", CultureInfo.InvariantCulture));
        return day;
    }

    /// <summary>From a column of its own, or from its side of a column of two.</summary>
    public double? Value(string field)
    {
        if (columns.ContainsKey(field) || PairOf(field) is not { } pair)
            return Read<double?>(field, reader.Number);
        var (first, second) = Read<(double? First, double? Second)>(
            pair,
            cell => reader.Pair(cell) is var (both, bad) && bad is null ? (both, null) : (default, bad)
        );
        return ImportFields.Pairs[pair].First == field ? first : second;
    }

    public double? Millimetres(string field) => Measured(field, reader.Length, "mm");

    public double? Kilograms(string field) => Measured(field, reader.Weight, "kg");

    /// <summary>A traced line.</summary>
    public TracedCell? Points(string field)
    {
        var line = Read(field, reader.Points);
        if (line is not null)
            ReadsAs(field, string.Create(CultureInfo.InvariantCulture, $"a line of {line.Points.Count} points"));
        return line;
    }

    private double? Measured(string field, Func<Cell, (double?, Refused?)> read, string unit)
    {
        var value = Read(field, read);
        if (value is { } number)
            ReadsAs(field, string.Create(CultureInfo.InvariantCulture, $"{number:0.#} {unit}"));
        return value;
    }

    /// <summary>What was made of a cell that says it otherwise.</summary>
    public void ReadsAs(string field, string meaning)
    {
        if (Place(field) is { } at && !string.Equals(Shown(row[at.Column]), meaning, StringComparison.OrdinalIgnoreCase))
            _reads[at.Header] = meaning;
    }

    /// <summary>Of every cell that was read as something else than what stands in it, what it was taken for.</summary>
    public IReadOnlyList<CellReading> Readings =>
        [
            .. columns
                .Values.Distinct()
                .OrderBy(c => c.Column)
                .Where(c => _reads.ContainsKey(c.Header))
                .Select(c => new CellReading(c.Header, _reads[c.Header])),
        ];

    /// <summary>What is wrong with a value that could be read; said once a cell.</summary>
    /// <param name="field">Null for the whole line.</param>
    public void Refuse(string? field, Refused refused)
    {
        if (!_faults.Any(f => HeaderOf(f.Field) == HeaderOf(field) && f.Refused.Code == refused.Code))
            _faults.Add((field, refused));
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

    private string? HeaderOf(string? field) => field is not null && Place(field) is { } at ? at.Header : null;

    private (int Column, string Header)? Place(string field) =>
        columns.TryGetValue(field, out var at) || (PairOf(field) is { } pair && columns.TryGetValue(pair, out at)) ? at : null;

    /// <summary>The column of two that holds this side.</summary>
    private string? PairOf(string field) =>
        ImportFields
            .Pairs.Where(p => (p.Value.First == field || p.Value.Second == field) && columns.ContainsKey(p.Key))
            .Select(p => p.Key)
            .FirstOrDefault();

    private static string? Shown(Cell cell) =>
        cell.Kind == CellKind.Empty ? null
        : cell.Text.Length > LongestShown ? string.Concat(cell.Text.AsSpan(0, LongestShown), "…")
        : cell.Text;

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
            {
                var says = fields.First(f => f.Key == field).Says;
                return (null, new Refused("field-twice", $"Two columns are said to be {says}. Leave one of them out.", Place: "columns"));
            }
        }

        if (SaidTwice(columns) is { } twice)
            return (null, twice);
        if (plan.DateFormats?.Any(f => !ImportFields.DateFormats.Contains(f, StringComparer.Ordinal)) == true)
            return (null, NoSuchDateForm);
        if (ImportDates.ReadTwoWays(ImportDates.Of(plan)) is { } clash)
            return (
                null,
                new Refused(
                    "two-ways",
                    $"{ImportDates.Says(clash.One)} and {ImportDates.Says(clash.Other)} read one text as two days. "
                        + "Keep the one that the table was written in.",
                    Place: "dateFormats"
                )
            );
        return fields.FirstOrDefault(f => f.Needed && !columns.ContainsKey(f.Key)) is { } missing
            ? (null, new Refused("field-missing", $"Say which column is {missing.Says}.", Place: "columns"))
            : (columns, null);
    }

    private static readonly Refused NoSuchDateForm = new(
        "no-such-date-form",
        $"Days are not read in one of these forms. Known here: {string.Join(", ", ImportFields.DateFormats)}.",
        Place: "dateFormats"
    );

    private static Refused? SaidTwice(Dictionary<string, (int Column, string Header)> columns)
    {
        var said = ImportFields.Pairs.Where(p => columns.ContainsKey(p.Key)).ToList();
        return said.Count > 1 || said.Any(p => columns.ContainsKey(p.Value.First) || columns.ContainsKey(p.Value.Second))
            ? new Refused(
                "field-twice",
                "A column holds both sides and another one of them too: a side has one column. Leave one of them out.",
                Place: "columns"
            )
            : null;
    }
}
