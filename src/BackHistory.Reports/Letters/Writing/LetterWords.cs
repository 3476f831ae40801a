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
        kind == LetterKind.VetCaution
            ? In(language) with
            {
                Book = language.Pick("The vet has seen my horse", "Tierärztlich untersucht"),
            }
            : In(language);

    static LetterWords In(ReportLanguage language) =>
        language.Pick(
            new LetterWords(
                "Book a visit",
                "Remind me later",
                "Not needed",
                "What we measured",
                "Now",
                "At the fit",
                "Stop letters of this kind",
                "You get this letter because your horse or your work is in our care.",
                "Please take care",
                "Nothing this time.",
                "For those who want the numbers"
            ),
            new LetterWords(
                "Termin vereinbaren",
                "Später erinnern",
                "Nicht nötig",
                "Was wir gemessen haben",
                "Jetzt",
                "Beim Einstellen",
                "Briefe dieser Art abbestellen",
                "Sie erhalten diesen Brief, weil wir Ihr Pferd oder Ihre Arbeit betreuen.",
                "Bitte beachten",
                "Diesmal nichts.",
                "Für alle, die es genau wissen möchten"
            )
        );
}
