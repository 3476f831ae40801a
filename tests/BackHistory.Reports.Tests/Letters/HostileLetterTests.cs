using System.Xml.Linq;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Tests.Letters;

/// <summary>Names are what people type, and templates are what practices edit.</summary>
public class HostileLetterTests
{
    const string Evil =
        "Robin<script>alert(1)</script>\"' onload=x {{ 7 | times: 7 }} {% include 'x' %} &copy; \r\nBcc: "
        + "all@example.org\u202Egro.elpmaxe\uE000Chart\uE001";

    static LetterModel Hostile =>
        SampleLetters.English with
        {
            PracticeName = Evil,
            PracticeContact = Evil,
            RecipientName = Evil,
            HorseName = Evil,
            Sentences = [Evil, Evil],
            Numbers = [new(Evil, Evil, Evil)],
            Cautions = [Evil],
            Link = new(Evil, "https://practice.example/?q=\"><script>alert(1)</script>"),
            Groups = [new(Evil, [new(Evil, Evil, Evil, Evil) { Url = "https://practice.example/'onclick='x" }]) { Note = Evil }],
            Date = new(2026, 1, 1),
            Chart = SampleLetters.English.Chart! with { AltText = Evil },
        };

    [Theory]
    [InlineData(LetterKind.OwnerRefit)]
    [InlineData(LetterKind.ManagerDigest)]
    [InlineData(LetterKind.FitterDay)]
    [InlineData(LetterKind.VetNote)]
    [InlineData(LetterKind.GroundWithdrawn)]
    public void A_name_with_html_and_liquid_in_it_is_only_text(LetterKind kind)
    {
        var letter = LetterBook.Write(kind, Hostile);
        var page = XDocument.Parse(letter.Html).Root!;
        var words = string.Concat(page.Descendants().SelectMany(e => e.Nodes().OfType<XText>()).Select(t => t.Value));

        Assert.Empty(page.Descendants("script"));
        Assert.DoesNotContain(page.Descendants().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.OrdinalIgnoreCase));
        Assert.All(page.Descendants("a").Attributes("href"), a => Assert.DoesNotContain("<", a.Value, StringComparison.Ordinal));
        Assert.Contains(
            "<script>alert(1)</script>\"' onload=x {{ 7 | times: 7 }} {% include 'x' %} &copy;",
            words,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("49", words, StringComparison.Ordinal);
        Assert.DoesNotContain('\u202E', letter.Html + letter.Text);
        Assert.DoesNotContain("Bcc", letter.Subject, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_cannot_start_a_line_of_its_own_in_the_text_part()
    {
        var letter = LetterBook.Write(
            LetterKind.OwnerRefit,
            SampleLetters.English with
            {
                RecipientName = "Robin\r\n\r\nhttps://evil.example/",
            }
        );

        Assert.Contains(
            "Dear Robin    https://evil.example/,".Replace("    ", " ", StringComparison.Ordinal),
            letter.Text,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("javascript:alert(1)")]
    [InlineData("data:text/html,x")]
    [InlineData("/relative")]
    [InlineData("no address")]
    public void An_address_that_is_none_is_refused(string url)
    {
        var content = SampleLetters.English with { Answers = new(url, "https://practice.example/", "https://practice.example/") };

        Assert.Contains(
            "is no web or mail address",
            Assert.Throws<LetterContentException>(() => LetterBook.Write(LetterKind.OwnerRefit, content)).Message,
            StringComparison.Ordinal
        );
    }

    static LetterTemplateException Refused(string body) => Refused("Subject: A letter\n", body);

    static LetterTemplateException Refused(string first, string body) =>
        Assert.Throws<LetterTemplateException>(() => new LetterTemplate(first + body).Check(LetterKind.GroundWithdrawn));

    [Theory]
    [InlineData("Dear {{ recipient }},\n\n{{ hors }}\n", 4, "hors")]
    [InlineData("one\n\n{{ horse\n\nfive", 4, "}}")]
    [InlineData("one\n{% if horse %}\nthree", 4, "endif")]
    [InlineData("one\n{% nope %}", 3, "nope")]
    [InlineData("one\ntwo\n{{ horse | shout }}", 4, "shout")]
    [InlineData("{% include 'secrets' %}", 2, "include")]
    [InlineData("one\n{% assign x = 1 %}", 3, "assign")]
    [InlineData("one\n{% capture x %}{% endcapture %}", 3, "capture")]
    [InlineData("one\n{{ horse | append: 'x' }}", 3, "append")]
    public void A_bad_template_says_in_which_line(string body, int line, string about)
    {
        var refused = Refused(body);

        Assert.Equal(line, refused.Line);
        Assert.StartsWith($"Line {line}: ", refused.Message, StringComparison.Ordinal);
        Assert.Contains(about, refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Dear friend", "\n", 1, "first line must be the subject")]
    [InlineData("Subject: News for {{ recipient }}", "\nx", 1, "only “horse”, “date” and “count”")]
    [InlineData("Subject: {{ date | upcase }}{% comment %}{% endcomment %}", "\n{{ sentences.first.secret }}", 0, "behind a dot")]
    public void A_subject_holds_no_names_of_people(string first, string body, int line, string about)
    {
        var refused = Refused(first, body);

        Assert.Equal(line, refused.Line);
        Assert.Contains(about, refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{% for i in (1..1000000000) %}x{% endfor %}")]
    [InlineData("{% lead %}{% if horse %}{% for i in (1..1000000000) %}x{% endfor %}{% endif %}{% endlead %}")]
    [InlineData("{% case horse %}{% when 'x' %}{% else %}{% for i in (1..1000000000) reversed %}x{% endfor %}{% endcase %}")]
    public void Counting_to_a_billion_is_refused_before_it_starts(string body) =>
        Assert.Contains("Counting", Refused(body).Message, StringComparison.Ordinal);

    [Fact]
    public void Loops_in_loops_end_with_a_sentence()
    {
        var loops = string.Concat(Enumerable.Range(0, 14).Select(i => $"{{% for s{i} in sentences %}}"));

        Assert.Contains(
            "cannot be carried out",
            Refused(loops + "x" + string.Concat(Enumerable.Repeat("{% endfor %}", 14))).Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_letter_that_grows_too_long_ends_with_a_sentence()
    {
        var loops = string.Concat(Enumerable.Range(0, 8).Select(i => $"{{% for s{i} in sentences %}}"));

        Assert.Contains(
            "longer than",
            Refused(loops + new string('x', 900) + string.Concat(Enumerable.Repeat("{% endfor %}", 8))).Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_template_of_a_megabyte_is_not_read() =>
        Assert.Contains("20000 are the most", Refused(new string('x', 1_000_000)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_refit_letter_without_its_answers_is_no_refit_letter()
    {
        var refused = Assert.Throws<LetterTemplateException>(() =>
            new LetterTemplate("Subject: Hello\nDear {{ recipient }}, come.").Check(LetterKind.OwnerRefit)
        );

        Assert.Contains("{% answers %}", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_practice_can_write_its_own_words()
    {
        var own = new LetterTemplate(
            "Subject: Hello from us\n\nHi {{ recipient | upcase }}!\n\n{% if count == 0 %}Just {{ horse }}.{% endif %}\nSecond line "
                + "<b>not bold</b>\n\n{% answers %}"
        );
        var letter = LetterBook.Write(LetterKind.OwnerRefit, SampleLetters.English, own);

        Assert.Equal("Hello from us", letter.Subject);
        Assert.StartsWith(
            "Hi ROBIN FIELD!\n\nJust Juniper.\nSecond line <b>not bold</b>\n\nBook a visit:\n",
            letter.Text,
            StringComparison.Ordinal
        );
        Assert.Contains("&lt;b&gt;not bold&lt;/b&gt;", letter.Html, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_shipped_template_passes_its_own_check()
    {
        Assert.NotEmpty(LetterKinds.All);
        Assert.All(
            LetterKinds.All.SelectMany(k => Languages.Shipped.All, (k, language) => (k.Kind, Language: language)),
            l => LetterTemplate.Shipped(l.Kind, l.Language).Check(l.Kind)
        );
    }
}
