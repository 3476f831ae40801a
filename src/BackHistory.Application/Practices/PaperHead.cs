using BackHistory.History.Practices;
using BackHistory.Reports.Sheets.Content;

namespace BackHistory.Application.Practices;

/// <summary>What stands at the head of a paper of the practice.</summary>
public static class PaperHead
{
    /// <param name="contact">Null where nobody said yet how the practice is reached.</param>
    /// <param name="date">Of the visit or the report, in the practice's time zone.</param>
    public static SheetHead Of(
        Practice practice,
        PracticeContact? contact,
        string horseName,
        DateOnly date,
        ReportLanguage language = default
    ) =>
        new()
        {
            PracticeName = practice.Name,
            Contact = contact?.InOneLine() ?? "",
            Mark = contact?.Picture is { } picture ? new SheetMark(picture.Bytes, picture.Width, picture.Height) : null,
            HorseName = horseName,
            Date = date,
            Language = language,
        };
}
