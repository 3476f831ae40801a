using System.Globalization;
using BackHistory.History;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What is written down of each line of a table: its verdict, and what it made.</summary>
internal static class ImportLines
{
    /// <param name="kept">It is written down and outlives the table: what may name a person is left out.</param>
    public static ImportLine LineFor(
        Import import,
        SheetLine line,
        LineVerdict verdict,
        Refused? refused,
        IReadOnlyList<MadeByImport> made,
        bool kept = true
    )
    {
        var kind = import.Plan!.Kind;
        // What a decision refuses; what could not be read stands with its cell already.
        if (refused is not null && line.Refused is null)
            line.Refuse(FieldOf(kind, refused), refused);
        var whose = ImportFields.Whose(kind);
        return new ImportLine(
            DeterministicId.From("import line", import.Id.ToString(), line.Number.ToString(CultureInfo.InvariantCulture)),
            import.Id,
            line.Number,
            verdict,
            refused?.Code,
            refused?.Message,
            refused is null ? null : line.Column,
            made,
            Who: line.Raw(whose) is { } who && Shown(whose, who) ? who : null,
            Faults: refused is null ? null : line.Faults(Shown)
        )
        {
            Readings = line.Readings,
        };

        bool Shown(string field, string text) =>
            !kept || ImportFields.Of[kind].Any(f => f.Key == field && ImportFields.NamesNobody(kind, f, text));
    }

    /// <summary>The field that a decision is about; null where it is about the whole line.</summary>
    private static string? FieldOf(ImportKind kind, Refused refused) =>
        (kind, refused) switch
        {
            (ImportKind.Visits, { Code: "no-method" }) => "method",
            (ImportKind.Visits, { Kind: RefusalKind.NotFound or RefusalKind.Conflict }) => "horse",
            (ImportKind.Visits, _) => "date",
            (ImportKind.SaddleWork, { Code: "saddle-withdrawn" or "no-such-saddle" }) => "saddle",
            (ImportKind.SaddleWork, { Kind: RefusalKind.NotFound or RefusalKind.Conflict }) => "horse",
            (ImportKind.SaddleWork, _) => "date",
            (ImportKind.Gauges, { Place: "marks" }) => "value",
            (ImportKind.Gauges, { Place: "name" }) => "gauge",
            (ImportKind.Gauges, { Place: "measure" }) => "reads",
            (_, { Place: "heightMm" }) => "height",
            (_, { Place: { } place }) when ImportFields.Of[kind].Any(f => f.Key == place) => place,
            _ => null,
        };

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
            LineStep.Worked s => [s.Made],
            LineStep.Gauged s => [s.Made],
            LineStep.Measured s =>
            [
                .. s
                    .Visit.Entries.Select(e => new MadeByImport(MadeAs.Entry, s.HorseId, e.EntryId))
                    .Prepend(new MadeByImport(MadeAs.Visit, s.HorseId, s.Visit.VisitId)),
            ],
            _ => [],
        };
}
