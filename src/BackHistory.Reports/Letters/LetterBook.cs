using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;
using BackHistory.Reports.Letters.Writing;

namespace BackHistory.Reports.Letters;

/// <summary>Writes the practice's letters.</summary>
public static class LetterBook
{
    /// <param name="own">The practice's own template; null takes the shipped one of the content's language.</param>
    /// <exception cref="LetterContentException">Something that this kind needs is missing, or an address is not one.</exception>
    /// <exception cref="LetterTemplateException">The template cannot be read, names something unknown, or runs too long.</exception>
    public static ComposedLetter Write(LetterKind kind, LetterModel content, LetterTemplate? own = null)
    {
        var clean = CleanContent.Clean(kind, content);
        var template = ParsedTemplate.Parse((own ?? LetterTemplate.Shipped(kind, content.Language)).Source, kind);
        var subject = template.Subject(clean);
        var body = LetterBody.Read(template.Body(clean), kind);
        var words = LetterWords.In(content.Language, kind);
        return new ComposedLetter(
            subject,
            HtmlLetter.Write(subject, body, clean, words),
            TextLetter.Write(body, clean, words),
            Images(body, clean)
        );
    }

    static LetterImage[] Images(IReadOnlyList<BodyPart> body, LetterModel content) =>
        [
            .. new[] { content.Mark }.OfType<LetterImage>(),
            .. new[] { (BodyMark.Back, content.Back), (BodyMark.Chart, content.Chart) }
                .Where(p => p.Item2 is not null && body.Any(b => b.Mark == p.Item1))
                .Select(p => p.Item2!),
        ];
}
