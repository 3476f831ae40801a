namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>The cautions of method.md section 9, where the sheet leads to a decision.</summary>
internal static class SheetCautions
{
    public static IReadOnlyList<string> BeforeRefit(ReportLanguage language) => [language["sheet-cautions.a-proposal-for-a"]];

    public static IReadOnlyList<string> ShapeOnly(ReportLanguage language) => [language["sheet-cautions.these-sheets-describe-the"]];
}
