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
            cell =>
                (CellReader.Unreadable(cell) ?? EnteredText.Problem(cell.Text)) is { } bad ? (null, bad) : (cell.Text.Normalize(), null),
            text => text
        );

    public static readonly Refused EmptyCell = new("empty-cell", "This cell is needed and holds nothing. Fill it in the table.");

    public string? Needed(string field)
    {
        var text = Text(field);
        if (text is null && Raw(field) is null)
            Refuse(field, EmptyCell);
        return text;
    }

    /// <summary>A mark of a gauge as it is engraved.</summary>
    public string? Engraved(string field)
    {
        if (Place(field) is not { } at || row[at.Column].Kind != CellKind.Date)
            return Text(field);
        Refuse(
            field,
            new Refused(
                "not-a-mark",
                "The cell holds a date: a spreadsheet may have turned a mark into one. Format the column as text, and write the mark."
            )
        );
        return null;
    }

    /// <summary>One of a closed list, by its word in any language.</summary>
    public string? Word(string field, string text, IReadOnlyList<string> values)
    {
        var value = ImportWords.Choice(field, text, values);
        if (value is null)
            Refuse(field, new Refused("unknown-word", $"Known here: {ImportWords.Known(field, values)}."));
        else
            ReadsAs(field, value.ToLowerInvariant());
        return value;
    }

    public DateOnly? Date(string field) =>
        Read<DateOnly?>(field, reader.Date, day => day!.Value.ToString("d MMMM yyyy", CultureInfo.InvariantCulture));

    /// <summary>From a column of its own, or from its side of a column of two.</summary>
    public double? Value(string field)
    {
        if (columns.ContainsKey(field) || PairOf(field) is not { } pair)
            return Read<double?>(field, reader.Number, number => Say(number!.Value));
        var (first, second) = Read<(double? First, double? Second)>(
            pair,
            cell => reader.Pair(cell) is var (both, bad) && bad is null ? (both, null) : (default, bad),
            both => Sides(pair, both)
        );
        return ImportFields.Pairs[pair].First == field ? first : second;
    }

    public double? Millimetres(string field) => Measured(field, reader.Length, "mm");

    public double? Kilograms(string field) => Measured(field, reader.Weight, "kg");

    /// <summary>A number with or without the unit behind it.</summary>
    public (double? Number, string? Unit) WithUnit(string field) =>
        Read<(double? Number, string? Unit)>(
            field,
            cell => reader.WithUnit(cell) is var (number, unit, bad) && bad is null ? ((number, unit), null) : (default, bad),
            read => Say(read.Number!.Value)
        );

    /// <summary>A traced line.</summary>
    public TracedCell? Points(string field) =>
        Read(field, reader.Points, line => string.Create(CultureInfo.InvariantCulture, $"a line of {line.Points.Count} points"));

    private double? Measured(string field, Func<Cell, (double?, Refused?)> read, string unit) =>
        Read(field, read, value => string.Create(CultureInfo.InvariantCulture, $"{value!.Value:0.#} {unit}"));

    private static string Say(double number) => number.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Sides(string pair, (double? First, double? Second) both) =>
        string.Join(
            ", ",
            new[] { (Key: ImportFields.Pairs[pair].First, Value: both.First), (Key: ImportFields.Pairs[pair].Second, Value: both.Second) }
                .Where(side => side.Value is not null)
                .Select(side => $"{(side.Key == History.Horses.Readings.SlopeLeft ? "left" : "right")} {Say(side.Value!.Value)}")
        );

    /// <summary>What was made of a cell, where it is more than its words say.</summary>
    public void ReadsAs(string field, string meaning)
    {
        if (Place(field) is { } at)
            _reads[at.Header] = meaning;
    }

    /// <summary>What every cell that could be read was taken for.</summary>
    public IReadOnlyList<CellReading> Readings =>
        [
            .. columns
                .Values.Distinct()
                .OrderBy(c => c.Column)
                .Where(c => _reads.ContainsKey(c.Header) && _faults.All(f => HeaderOf(f.Field) != c.Header))
                .Select(c => new CellReading(c.Header, _reads[c.Header])),
        ];

    /// <summary>The header of the column that holds a field; null without one.</summary>
    public string? Header(string field) => HeaderOf(field);

    /// <summary>What is wrong with a value that could be read; said once a cell.</summary>
    /// <param name="field">Null for the whole line.</param>
    public void Refuse(string? field, Refused refused)
    {
        if (!_faults.Any(f => HeaderOf(f.Field) == HeaderOf(field) && f.Refused.Code == refused.Code))
            _faults.Add((field, refused));
    }

    /// <param name="says">What a cell that could be read was taken for.</param>
    private T? Read<T>(string field, Func<Cell, (T?, Refused?)> read, Func<T, string> says)
    {
        if (!columns.TryGetValue(field, out var at) || row[at.Column] is not { Kind: not CellKind.Empty } cell)
            return default;
        var (value, bad) = read(cell);
        if (bad is not null)
            Refuse(field, bad);
        else if (value is not null)
            _reads.TryAdd(at.Header, says(value));
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
