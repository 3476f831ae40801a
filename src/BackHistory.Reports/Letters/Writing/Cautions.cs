using BackHistory.History.Reminders;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>
/// The cautions of method.md section 9, where a decision is taken. They belong to the kind of letter, not to its template: the practice
/// may move them, not leave them out.
/// </summary>
internal static class Cautions
{
    public static IReadOnlyList<string> Of(LetterKind kind, ReportLanguage language) =>
        [.. LetterKinds.Of(kind).Cautions.Select(c => In(language, c))];

    public static bool Always(LetterKind kind) => LetterKinds.Of(kind).Cautions.Count > 0;

    static string In(ReportLanguage language, LetterCaution caution) =>
        caution switch
        {
            LetterCaution.VetFirst => language["cautions.call-your-vet-before"],
            LetterCaution.NoDiagnosis => language["cautions.we-describe-the-shape"],
            LetterCaution.SafeFooting => language["cautions.work-with-an-experienced"],
            _ => throw new ArgumentOutOfRangeException(nameof(caution), caution, "no such caution"),
        };
}
