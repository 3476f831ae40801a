using BackHistory.Formats.Sheets;

namespace BackHistory.Service.Imports;

/// <param name="Examples">The first lines, as they are read.</param>
/// <param name="Letters">In which letters the table was written.</param>
/// <param name="Odd">Cells with letters beyond the plain ones, to see whether they were read as they were meant.</param>
/// <param name="PassedOver">Titles above the header.</param>
public sealed record SheetAnswer(
    Guid Id,
    IReadOnlyList<string> Headers,
    IReadOnlyList<IReadOnlyList<string>> Examples,
    int Lines,
    SheetLetters Letters,
    IReadOnlyList<string> Odd,
    IReadOnlyList<SheetTitle> PassedOver
)
{
    private const int MostExamples = 5;

    private const int MostOdd = 6;

    internal static SheetAnswer From(Guid id, Sheet sheet) =>
        new(
            id,
            sheet.Headers,
            [.. sheet.Rows.Take(MostExamples).Select(r => (IReadOnlyList<string>)[.. r.Cells.Select(c => c.Text)])],
            sheet.Rows.Count,
            sheet.Letters,
            [
                .. sheet
                    .Headers.Concat(sheet.Rows.SelectMany(r => r.Cells.Select(c => c.Text)))
                    .Where(t => t.Any(c => c > 127))
                    .Distinct(StringComparer.Ordinal)
                    .Take(MostOdd),
            ],
            sheet.PassedOver
        );
}
