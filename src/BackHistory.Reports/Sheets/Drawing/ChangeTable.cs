using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Reports.Sheets.Drawing;

internal static class ChangeTable
{
    public static void Write(Flow flow, IReadOnlyList<ChangeRow> changes, ReportLanguage language)
    {
        if (changes.Count == 0)
            return;
        flow.Table(
            [
                language["change-table.measure"],
                language["change-table.station"],
                language["change-table.then"],
                language["change-table.now"],
                language["change-table.change"],
                language["change-table.threshold"],
                language["change-table.says"],
            ],
            [2.2, 1.7, 1.2, 1.2, 1.5, 1.1, 1.7],
            [.. changes.Select(c => new[] { c.Measure, c.Station, c.Then, c.Now, c.Change, c.Threshold, c.State })],
            language["number.spread"]
        );
    }
}
