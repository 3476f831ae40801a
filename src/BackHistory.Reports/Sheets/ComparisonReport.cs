using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets.Drawing;

namespace BackHistory.Reports.Sheets;

/// <summary>Two dates or more beside each other: what changed, in a table with its uncertainty, and in pictures.</summary>
public static class ComparisonReport
{
    /// <summary>A PDF.</summary>
    /// <exception cref="NotDrawableException">A chart holds a value that cannot be drawn.</exception>
    public static byte[] Write(ComparisonReportInput input)
    {
        var language = input.Head.Language;
        var title = language["comparison-report.comparison"];
        using var document = new SheetDocument($"{title}, {input.Head.HorseName}", input.Head);
        using (var flow = new Flow(document, input.Head, title))
        {
            flow.Title(input.Finding);
            ChangeTable.Write(flow, input.Changes, language);
            foreach (var trend in input.Trends)
                flow.Chart(TrendChart.Draw(trend, ChartTheme.Light, new(Flow.ChartWidth, 380)));
            foreach (var section in input.Sections)
                flow.Chart(SectionChart.Draw(section, ChartTheme.Light, new(Flow.ChartWidth, 390)));
            if (input.Topline is { } topline)
                flow.Chart(ToplineChart.Draw(topline, ChartTheme.Light, new(Flow.ChartWidth, 310)));
            flow.Caution(SheetCautions.BeforeRefit(language));
        }
        return document.Save();
    }
}
