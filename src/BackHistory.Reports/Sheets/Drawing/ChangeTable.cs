namespace BackHistory.Reports.Sheets.Drawing;

internal static class ChangeTable
{
    public static void Write(Flow flow, IReadOnlyList<ChangeRow> changes, ReportLanguage language)
    {
        if (changes.Count == 0)
            return;
        flow.Table(
            language.Pick<string[]>(
                ["measure", "station", "then", "now", "change", "threshold", "says"],
                ["Maß", "Messstelle", "damals", "jetzt", "Änderung", "Schwelle", "heißt"]
            ),
            [2.2, 1.7, 1.2, 1.2, 1.5, 1.1, 1.7],
            [.. changes.Select(c => new[] { c.Measure, c.Station, c.Then, c.Now, c.Change, c.Threshold, c.State })],
            language.Pick("± is the 95 % uncertainty.", "± ist die Unsicherheit von 95 %.")
        );
    }
}
