using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;
using BackHistory.Reports.Letters.Writing;

namespace BackHistory.Reports.Letters;

/// <summary>
/// A letter's words, in Liquid. The first line is <c>Subject: …</c> and may use only <c>horse</c>, <c>date</c> and <c>count</c>: a
/// subject is read over shoulders. Then paragraphs, parted by blank lines. Names: <c>recipient, horse, practice, date, count,
/// sentences</c>. Marks on lines of their own: <c>{% back %} {% chart %} {% numbers %} {% answers %} {% groups %} {% link %}
/// {% cautions %}</c>, and <c>{% lead %}…{% endlead %}</c> around the finding. <c>if, unless, case</c> and <c>for</c> work as usual;
/// there is no HTML, no inclusion, no assignment.
/// </summary>
public sealed record LetterTemplate(string Source)
{
    /// <summary>The template that comes with the program.</summary>
    public static LetterTemplate Shipped(LetterKind kind, ReportLanguage language) => new(language.Document($"Letters/{kind}.liquid"));

    /// <summary>Reads the template without writing a letter.</summary>
    /// <exception cref="LetterTemplateException">It cannot be used, with the line.</exception>
    public void Check(LetterKind kind) => _ = ParsedTemplate.Parse(Source, kind);
}
