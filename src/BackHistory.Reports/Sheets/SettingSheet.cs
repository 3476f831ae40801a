using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Sheets.Drawing;

namespace BackHistory.Reports.Sheets;

/// <summary>The sheet for the bench: the proposed setting in the workshop's own gauge marks, and lines to write down what was
/// done.</summary>
public static class SettingSheet
{
    /// <summary>A PDF.</summary>
    /// <exception cref="NotDrawableException">The gauge's chart holds a value that cannot be drawn.</exception>
    public static byte[] Write(SettingSheetInput input)
    {
        var language = input.Head.Language;
        var title = language["setting-sheet.setting-sheet"];
        using var document = new SheetDocument($"{title}, {input.Head.HorseName}", input.Head);
        using (var flow = new Flow(document, input.Head, title))
        {
            if (input.First.Count > 0)
                flow.Caution(input.First);
            flow.Title(input.Proposal);
            flow.Paragraph(language["setting-sheet.saddle-gauge", input.Saddle, input.Gauge], muted: true);
            flow.Table(
                [
                    "",
                    language["setting-sheet.set-to"],
                    language["setting-sheet.now"],
                    language["setting-sheet.change"],
                    language["setting-sheet.mark"],
                    language["setting-sheet.nearest-mark"],
                    language["setting-sheet.left-over"],
                ],
                [2.2, 1.4, 1.4, 1.6, 1, 1.2, 1.1],
                [.. input.Rows.Select(r => new[] { r.What, r.Then, r.Now, r.Change, r.Mark, r.NearestMark, r.Remainder })]
            );
            if (input.Chart is { } chart)
                flow.Chart(GaugeChart.Draw(chart, ChartTheme.Light, new(Flow.ChartWidth, 250)));
            Sentences(flow, language["setting-sheet.noted"], input.Notes);
            Sentences(flow, language["setting-sheet.what-cannot-be-said"], input.CannotBeSaid);
            flow.Caution(SheetCautions.BeforeRefit(language));
            flow.Fields(
                language["setting-sheet.what-was-really-done"],
                [
                    language["setting-sheet.tree-left"],
                    language["setting-sheet.tree-right"],
                    language["setting-sheet.panel"],
                    language["setting-sheet.date-and-name"],
                ]
            );
        }
        return document.Save();
    }

    static void Sentences(Flow flow, string heading, IReadOnlyList<string> sentences)
    {
        if (sentences.Count == 0)
            return;
        flow.Heading(heading);
        foreach (var sentence in sentences)
            flow.Paragraph(sentence);
    }
}
