using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;
using LetterKind = BackHistory.History.Reminders.LetterKind;

namespace BackHistory.Application.Letters;

/// <summary>The practice's own words of one letter, or a return to those that come with the program.</summary>
public sealed class SetLetterTemplate(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Language">The tag of a language of letters, as <c>en</c>.</param>
    /// <param name="Source">Null returns to the shipped words.</param>
    public sealed record Input(LetterKind Kind, string Language, string? Source);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (!Languages.Shipped.Knows(input.Language))
            return new Outcome(Guid.Empty, 0, 0, UnknownLanguage);
        try
        {
            if (input.Source is { } source)
                new LetterTemplate(source).Check(input.Kind);
        }
        catch (LetterTemplateException e)
        {
            return new Outcome(Guid.Empty, 0, 0, Bad(e));
        }

        var change = new ChangeLetterTemplate(input.Kind, input.Language, input.Source, by.Context.Actor);
        var key = LetterTemplateChanged.KeyOf(input.Kind, input.Language);
        return await practice.Decide(
            by.Context,
            e => e is LetterTemplateChanged other && other.Key == key,
            state => PracticeDecider.Decide(state, change, by.Context.Now),
            ct
        );
    }

    private static Refused UnknownLanguage =>
        new("unknown-language", $"Letters are written in {Languages.Shipped.Named}.", Place: "language");

    /// <summary>What is wrong with a template, and in which line.</summary>
    public static Refused Bad(LetterTemplateException e) =>
        new("bad-template", e.Message, Place: e.Line > 0 ? FormattableString.Invariant($"line {e.Line}") : null);
}
