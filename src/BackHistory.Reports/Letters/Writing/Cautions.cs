using BackHistory.History.Reminders;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>
/// The cautions of method.md section 9, where a decision is taken. They belong to the kind of letter, not to its template: the practice
/// may move them, not leave them out.
/// </summary>
internal static class Cautions
{
    public static IReadOnlyList<string> Of(LetterKind kind, ReportLanguage language) =>
        kind switch
        {
            LetterKind.OwnerRefit or LetterKind.VetCaution =>
            [
                language["cautions.call-your-vet-before"],
                language["cautions.we-describe-the-shape"],
            ],
            LetterKind.OwnerCheck or LetterKind.MeasureAgain or LetterKind.BookingMade => [language["cautions.call-your-vet-before"]],
            LetterKind.FitterDay => [language["cautions.work-with-an-experienced"]],
            LetterKind.VetNote => [language["cautions.we-describe-the-shape"]],
            _ => [],
        };

    public static bool Always(LetterKind kind) => Of(kind, ReportLanguage.English).Count > 0;
}
