using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets.Drawing;

namespace BackHistory.Reports.Sheets;

/// <summary>One horse's condition for a veterinary surgeon: the finding, the measures over time, what explains them, and how they were
/// taken.</summary>
public static class VetReport
{
    /// <summary>A PDF.</summary>
    /// <exception cref="NotDrawableException">The chart holds a value that cannot be drawn.</exception>
    public static byte[] Write(VetReportInput input)
    {
        var language = input.Head.Language;
        var title = language["vet-report.condition-report"];
        using var document = new SheetDocument($"{title}, {input.Head.HorseName}", input.Head);
        using (var flow = new Flow(document, input.Head, title))
        {
            flow.Title(input.Finding);
            if (input.Horse.Length > 0)
                flow.Paragraph(input.Horse, muted: true);
            flow.Caution(SheetCautions.ShapeOnly(language));
            flow.Chart(
                ConditionChart.Draw(input.Condition, ChartTheme.Light, new(Flow.ChartWidth, 190 + 88 * input.Condition.Panels.Count))
            );
            ChangeTable.Write(flow, input.Changes, language);
            if (input.History.Count > 0)
            {
                flow.Heading(language["vet-report.what-happened"]);
                flow.Table(
                    [language["vet-report.day"], language["vet-report.what"]],
                    [1, 5],
                    [.. input.History.OrderBy(n => n.On).Select(n => new[] { language.Date(n.On), n.Text })]
                );
            }
            if (input.Method.Count > 0)
            {
                flow.Heading(language["vet-report.how-it-was-measured"]);
                foreach (var sentence in input.Method)
                    flow.Paragraph(sentence);
            }
            flow.Fields(language["vet-report.your-comment"], ["", "", language["vet-report.date-and-name"]]);
        }
        return document.Save();
    }
}
