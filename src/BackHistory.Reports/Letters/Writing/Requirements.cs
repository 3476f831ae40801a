using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>What each kind of letter cannot do without.</summary>
internal static class Requirements
{
    public static IReadOnlyList<BodyMark> MarksOf(LetterKind kind) => MarksOf(LetterKinds.DefinitionOf(kind));

    static IReadOnlyList<BodyMark> MarksOf(LetterDefinition letter) =>
        [.. letter.Says.Except(letter.MayLeaveOut).Select(MarkOf).OfType<BodyMark>().Distinct()];

    /// <summary>The mark that has to stand in a template for a part; null where the letter reads on without it.</summary>
    static BodyMark? MarkOf(LetterPart part) =>
        part switch
        {
            LetterPart.Answers => BodyMark.Answers,
            LetterPart.HorseLink or LetterPart.RemindersLink or LetterPart.MoveLink => BodyMark.Link,
            LetterPart.Week or LetterPart.Day => BodyMark.Groups,
            _ => null,
        };

    /// <exception cref="LetterContentException">Something that the kind needs is missing.</exception>
    public static void Check(LetterKind kind, LetterModel content)
    {
        Need(content.PracticeName.Length > 0, kind, "the practice's name");
        Need(content.RecipientName.Length > 0, kind, "the recipient's name");
        Need(content.UnsubscribeUrl.Length > 0, kind, "the address to unsubscribe by");
        var aboutLists = LetterKinds.DefinitionOf(kind).IsList;
        Need(aboutLists || content.HorseName.Length > 0, kind, "the horse's name");
        Need(aboutLists || content.Sentences.Any(s => s.Length > 0), kind, "a sentence that says what was found");
        Need(!aboutLists || content.Date is not null, kind, "its date");
        var marks = MarksOf(kind);
        Need(!marks.Contains(BodyMark.Answers) || content.Answers is not null, kind, "the three answers");
        Need(!marks.Contains(BodyMark.Link) || content.Link is not null, kind, "its link");
    }

    static void Need(bool there, LetterKind kind, string what)
    {
        if (!there)
            throw new LetterContentException($"The letter {kind} needs {what}.");
    }

    /// <summary>Everything filled in, to try a template on.</summary>
    public static LetterModel Example { get; } =
        new()
        {
            PracticeName = "Practice",
            RecipientName = "Reader",
            HorseName = "Horse",
            Date = new DateOnly(2026, 1, 1),
            Sentences = ["One.", "Two."],
            UnsubscribeUrl = "https://example.org/",
        };
}
