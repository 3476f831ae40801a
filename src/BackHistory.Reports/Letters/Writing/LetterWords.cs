using BackHistory.History.Reminders;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>The words of a letter that no template holds.</summary>
internal sealed record LetterWords(
    string Book,
    string Later,
    string NotNeeded,
    string What,
    string Now,
    string Before,
    string Unsubscribe,
    string WhyYou,
    string TakeCare,
    string Nothing,
    string Details
)
{
    public static LetterWords In(ReportLanguage language, LetterKind kind) =>
        LetterKinds.Of(kind).FirstAnswer == Answer.VetHasSeen
            ? In(language) with
            {
                Book = language["letter-words.the-vet-has-seen"],
            }
            : In(language);

    static LetterWords In(ReportLanguage language) =>
        new(
            language["letter-words.book"],
            language["letter-words.later"],
            language["letter-words.not-needed"],
            language["letter-words.what"],
            language["letter-words.now"],
            language["letter-words.before"],
            language["letter-words.unsubscribe"],
            language["letter-words.why-you"],
            language["letter-words.take-care"],
            language["letter-words.nothing"],
            language["letter-words.details"]
        );
}
