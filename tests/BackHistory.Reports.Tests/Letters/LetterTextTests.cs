using BackHistory.History.Reminders;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Tests.Letters;

/// <summary>Whoever writes a letter's words sees no code, and what is kept is the template that it was.</summary>
public class LetterTextTests
{
    public static TheoryData<LetterKind, string> Shipped() =>
        [.. Enum.GetValues<LetterKind>().SelectMany(k => Languages.Shipped.Tags.Select(t => (k, t)))];

    [Theory]
    [MemberData(nameof(Shipped))]
    public void Every_shipped_letter_is_shown_without_code_and_comes_back_as_it_was(LetterKind kind, string tag)
    {
        var language = ReportLanguage.For(tag);
        var source = LetterTemplate.Shipped(kind, language).Source;

        var text = LetterText.From(new LetterTemplate(source), language)!;

        Assert.DoesNotContain('{', text.Subject + text.Words);
        Assert.DoesNotContain('%', text.Words.Replace("95 %", "", StringComparison.Ordinal));
        Assert.Equal(source.ReplaceLineEndings("\n").Trim(), text.Template(language).Source.Trim());
        text.Template(language).Check(kind);
        // Whatever stands in brackets is among what is offered.
        var offered = LetterText.Offered(kind, language).Select(o => o.Text).ToList();
        foreach (var piece in (text.Subject + text.Words).Split('[').Skip(1).Select(p => $"[{p.Split(']')[0]}]"))
            Assert.Contains(piece, offered);
    }

    [Fact]
    public void What_is_put_in_is_called_in_the_letters_language_whatever_its_case()
    {
        var german = ReportLanguage.For("de");

        var template = new LetterText(
            "Guten Tag",
            "Liebe [name des Lesers],\n\n[was gefunden  wurde, groß]\n\n[die drei Antworten]"
        ).Template(german);

        Assert.Equal(
            "Subject: Guten Tag\n\nLiebe {{ recipient }},\n\n{% lead %}{{ sentences[0] }}{% endlead %}\n\n{% answers %}\n",
            template.Source
        );
    }

    [Theory]
    [InlineData("Dear [reader],", "[reader]", 3)]
    [InlineData("Dear all,\n\n1] is a note", "]", 5)]
    [InlineData("Dear [the reader's\nname],", "[", 3)]
    public void What_cannot_be_put_in_is_named_with_its_line(string words, string named, int line)
    {
        var wrong = Assert.Throws<LetterTemplateException>(() => new LetterText("A letter", words).Template(ReportLanguage.English));

        Assert.Contains($"“{named}”", wrong.Message, StringComparison.Ordinal);
        Assert.Equal(line, wrong.Line);
    }

    [Theory]
    [InlineData("{{ recipient }}")]
    [InlineData("{% answers %}")]
    public void Code_is_not_written_by_hand(string words) =>
        Assert.Throws<LetterTemplateException>(() => new LetterText("A letter", words).Template(ReportLanguage.English));

    [Theory]
    [InlineData("Subject: A\n\n{% unless count == 3 %}Three{% endunless %}")]
    [InlineData("Subject: A\n\nSee [1] below")]
    [InlineData("Subject: A\n\n{{- recipient -}}")]
    public void A_template_that_says_more_than_words_can_is_shown_as_it_is(string source) =>
        Assert.Null(LetterText.From(new LetterTemplate(source), ReportLanguage.English));

    [Fact]
    public void Spaces_in_a_template_of_ones_own_do_not_hide_what_it_puts_in()
    {
        var text = LetterText.From(
            new LetterTemplate("Subject: {{date}}\n\nDear {{  recipient}},\n\n{%answers%}"),
            ReportLanguage.English
        )!;

        Assert.Equal(("[the day]", "Dear [the reader's name],\n\n[the three answers]"), (text.Subject, text.Words));
    }
}
