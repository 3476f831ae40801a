using System.Globalization;
using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Shape;
using BackHistory.Store.Imports;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Application.Imports;

/// <summary>From a cell to a value, by what was answered about the spreadsheet and by nothing else.</summary>
internal sealed class CellReader(ImportPlan plan)
{
    private readonly IReadOnlyList<string> _dates = ImportDates.Of(plan);

    public (DateOnly? Day, Refused? Refused) Date(Cell cell)
    {
        if (cell.Kind == CellKind.Date)
            return FromSerial(cell);
        if (Unreadable(cell) is { } bad)
            return (null, bad);
        if (cell.Kind == CellKind.Number && !_dates.Contains("yyyy", StringComparer.Ordinal))
            return (null, new Refused("not-a-date", "The cell holds a number where a date is expected. Format the column as a date."));
        if (_dates.Count == 0)
            return (null, Unanswered("how the dates are written"));
        foreach (var format in _dates)
        {
            if (ImportDates.Read(cell.Text, format) is { } day)
                return (day, null);
        }

        return (
            null,
            new Refused(
                "not-a-date",
                $"This is no day written as {string.Join(" or ", _dates.Select(ImportDates.Says))}. "
                    + "Put it right in the table, or tick the way in which it is written."
            )
        );
    }

    public (double? Number, Refused? Refused) Number(Cell cell)
    {
        if (cell.Kind == CellKind.Number)
            return (cell.Number, null);
        if (cell.Kind == CellKind.Date)
            return (
                null,
                new Refused("not-a-number", "The cell holds a date where a number is expected: a spreadsheet may have turned it into one.")
            );
        if (Unreadable(cell) is { } bad)
            return (null, bad);
        return Parse(cell.Text);
    }

    /// <summary>Two numbers in one cell, as in 32/34; one that was not taken is empty or a dash.</summary>
    public ((double? First, double? Second) Pair, Refused? Refused) Pair(Cell cell)
    {
        if (cell.Kind == CellKind.Date)
            return (
                default,
                new Refused(
                    "not-a-pair",
                    "The cell holds a date: a spreadsheet may have turned two numbers into one. Format the column as text and write 32/34."
                )
            );
        if (Unreadable(cell) is { } bad)
            return (default, bad);
        var parts = cell.Text.Split(['/', '|', ';', '\\'], StringSplitOptions.TrimEntries);
        if (parts.Length != 2 || parts.All(NotTaken))
            return (default, new Refused("not-a-pair", "Two numbers are expected here, the one side / the other, as in 32/34."));
        var (first, wrong) = NotTaken(parts[0]) ? (null, null) : Parse(parts[0]);
        var (second, wrongToo) = NotTaken(parts[1]) ? (null, null) : Parse(parts[1]);
        return ((first, second), wrong ?? wrongToo);
    }

    /// <summary>The points of a traced line in traced order, parted by semicolons, bars or new lines. Each is two numbers; a word behind
    /// them is its mark.</summary>
    public (TracedCell? Line, Refused? Refused) Points(Cell cell)
    {
        if (cell.Kind is CellKind.Date or CellKind.Number)
            return (null, NoPoints("The cell holds one number."));
        if (Unreadable(cell) is { } bad)
            return (null, bad);
        var (points, marks) = (new List<Point>(), new Dictionary<string, Point>(StringComparer.Ordinal));
        foreach (
            var part in cell.Text.Split([';', '|', '\n', '\r'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
        )
        {
            var words = part.Replace('−', '-').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
            if (words.Length is < 2 or > 3)
                return (null, NoPoints($"“{Short(part)}” is no point."));
            var (x, wrong) = Parse(words[0]);
            var (y, wrongToo) = Parse(words[1]);
            if (wrong?.Code == "unanswered")
                return (null, wrong);
            if (wrong is not null || wrongToo is not null)
                return (null, NoPoints($"“{Short(part)}” is no point."));
            points.Add(new Point(x!.Value, y!.Value));
            if (words.Length == 3 && !marks.TryAdd(words[2], points[^1]))
                return (null, NoPoints($"The mark “{Short(words[2])}” stands twice."));
        }

        return (new TracedCell(points, marks), null);
    }

    private static string Short(string text) => text.Length <= 20 ? text : string.Concat(text.AsSpan(0, 20), "…");

    private static Refused NoPoints(string why) =>
        new(
            "not-points",
            $"{why} Each point is two numbers in millimetres with a space between, and a semicolon stands behind it: "
                + "−120 −60; −110 −52."
        );

    private static bool NotTaken(string part) => part is "" or "-" or "–" or "—";

    /// <summary>Millimetres.</summary>
    public (double? Millimetres, Refused? Refused) Length(Cell cell)
    {
        var (text, unit) = Split(cell, ["mm", "cm", "m", "in", "\"", "hh", "hands"]);
        unit = unit switch
        {
            "\"" => "in",
            "hh" => "hands",
            null => plan.LengthUnit,
            _ => unit,
        };
        if (unit is null)
            return (null, Unanswered("the unit of the lengths"));
        var (number, bad) = Number(text);
        if (bad is not null)
            return (null, bad);
        return unit switch
        {
            "mm" => (number, null),
            "cm" => (number * 10, null),
            "m" => (number * 1000, null),
            "in" => (number * Inch.Millimetres, null),
            _ => Hands(number!.Value),
        };
    }

    public (double? Kilograms, Refused? Refused) Weight(Cell cell)
    {
        var (text, unit) = Split(cell, ["kg", "lb", "lbs"]);
        unit = unit == "lbs" ? "lb" : unit ?? plan.WeightUnit;
        if (unit is null)
            return (null, Unanswered("the unit of the weights"));
        var (number, bad) = Number(text);
        return bad is not null ? (null, bad) : (unit == "lb" ? number * Pound.Kilograms : number, null);
    }

    /// <summary>A number of degrees or of a length, with the unit that the cell names; null where it names none.</summary>
    public (double? Number, string? Unit, Refused? Refused) WithUnit(Cell cell)
    {
        var (text, unit) = Split(cell, ["°", "deg", "degrees", "mm", "cm", "in", "\""]);
        var (number, bad) = Number(text);
        return (
            number,
            unit is "°" or "degrees" ? "deg"
            : unit == "\"" ? "in"
            : unit,
            bad
        );
    }

    private static (double?, Refused?) Hands(double written) =>
        DisplayUnits.FromHands(written) is { } millimetres
            ? (millimetres, null)
            : (null, new Refused("not-hands", "After the point of hands stand inches, 0 to 3: 15.2 are fifteen hands and two inches."));

    private (double?, Refused?) Parse(string text)
    {
        var mark = plan.DecimalMark;
        if (mark is null && text.AsSpan().ContainsAny('.', ','))
            return (null, Unanswered("the mark before the decimals"));
        // Marks of thousands are refused: 1.520 is a length in one language and another in the next.
        var plain = mark == "," ? (text.Contains('.', StringComparison.Ordinal) ? "?" : text.Replace(',', '.')) : text;
        return double.TryParse(
            plain,
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture,
            out var number
        )
            ? (number, null)
            : (
                null,
                new Refused(
                    "not-a-number",
                    "This is no number that can be told for certain. Write it without marks of thousands and without words."
                )
            );
    }

    private static (Cell Number, string? Unit) Split(Cell cell, string[] units)
    {
        if (cell.Kind != CellKind.Text)
            return (cell, null);
        var unit = units.Where(u => cell.Text.EndsWith(u, StringComparison.OrdinalIgnoreCase)).MaxBy(u => u.Length);
        return unit is null ? (cell, null) : (cell with { Text = cell.Text[..^unit.Length].TrimEnd() }, unit);
    }

    private static (DateOnly?, Refused?) FromSerial(Cell cell) =>
        cell.Number is >= 1 and < 2_958_466
            ? (DateOnly.FromDateTime(new DateTime(1899, 12, 30, 0, 0, 0, DateTimeKind.Unspecified).AddDays(cell.Number)), null)
            : (null, new Refused("not-a-date", "This is no day of any calendar. Put it right in the table."));

    public static Refused? Unreadable(Cell cell) =>
        cell.Kind switch
        {
            CellKind.Formula => new Refused("formula", "The cell holds a formula. Nothing is calculated here: put its value in its place."),
            CellKind.Error => new Refused(
                "error-cell",
                $"The spreadsheet shows an error in this cell: {cell.Text}. Put its value in its place."
            ),
            _ => null,
        };

    private static Refused Unanswered(string what) => new("unanswered", $"This cannot be read before it is known: {what}.");
}
