using System.Globalization;
using BackHistory.History;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What is written down of each line of a table: its verdict, and what it made.</summary>
internal static class ImportLines
{
    public static ImportLine LineFor(
        Import import,
        SheetLine line,
        LineVerdict verdict,
        Refused? refused,
        IReadOnlyList<MadeByImport> made
    ) =>
        new(
            DeterministicId.From("import line", import.Id.ToString(), line.Number.ToString(CultureInfo.InvariantCulture)),
            import.Id,
            line.Number,
            verdict,
            refused?.Code,
            refused?.Message,
            refused is null ? null : line.Column,
            made
        );

    public static ImportCounts Count(IEnumerable<ImportLine> lines)
    {
        var counts = lines.CountBy(l => l.Verdict).ToDictionary();
        return new ImportCounts(
            counts.GetValueOrDefault(LineVerdict.Enters),
            counts.GetValueOrDefault(LineVerdict.Already),
            counts.GetValueOrDefault(LineVerdict.Refused)
        );
    }

    public static IReadOnlyList<MadeByImport> MadeBy(LineStep step) =>
        step switch
        {
            LineStep.Register s => [s.Made],
            LineStep.RegisterOne s => [s.Made],
            LineStep.Measured s =>
            [
                .. s
                    .Visit.Entries.Select(e => new MadeByImport(MadeAs.Entry, s.HorseId, e.EntryId))
                    .Prepend(new MadeByImport(MadeAs.Visit, s.HorseId, s.Visit.VisitId)),
            ],
            _ => [],
        };
}
