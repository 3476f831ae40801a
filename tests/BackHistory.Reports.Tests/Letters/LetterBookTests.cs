using System.Text.RegularExpressions;
using System.Xml.Linq;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Tests.Letters;

public class LetterBookTests
{
    public static TheoryData<LetterKind, string> All =>
        [.. from kind in Enum.GetValues<LetterKind>() from language in Languages.Shipped.Tags select (kind, language)];

    static ComposedLetter Written(LetterKind kind, ReportLanguage language = default) =>
        LetterBook.Write(kind, SampleLetters.Of(kind, language));

    static XElement Page(ComposedLetter letter) => XDocument.Parse(letter.Html).Root!;

    static string WordsOf(ComposedLetter letter) =>
        string.Join(' ', Page(letter).Descendants("body").DescendantNodes().OfType<XText>().Select(t => t.Value));

    [Theory, MemberData(nameof(All))]
    public void Every_letter_is_well_formed_and_says_in_which_language(LetterKind kind, string language)
    {
        var page = Page(Written(kind, ReportLanguage.For(language)));

        Assert.Equal(language, (string?)page.Attribute("lang"));
        Assert.Single(page.Descendants("h1"));
        Assert.All(page.Descendants("img"), i => Assert.True(((string?)i.Attribute("alt"))?.Length > 3));
        Assert.All(
            page.Descendants("table"),
            t =>
                Assert.True(
                    (string?)t.Attribute("role") == "presentation" || t.Descendants("th").Any(h => h.Attribute("scope") is not null)
                )
        );
    }

    [Theory, MemberData(nameof(All))]
    public void A_subject_names_the_horse_of_a_letter_about_one_and_nobody_whose_it_is(LetterKind kind, string language)
    {
        var content = SampleLetters.Of(kind, ReportLanguage.For(language));
        var subject = Written(kind, ReportLanguage.For(language)).Subject;

        Assert.InRange(subject.Length, 10, 78);
        Assert.Equal(!LetterKinds.DefinitionOf(kind).IsList, subject.StartsWith($"{content.HorseName}: ", StringComparison.Ordinal));
        Assert.All(
            content.RecipientName.Split(' ').Where(n => n.Length > 0),
            name => Assert.DoesNotContain(name, subject, StringComparison.OrdinalIgnoreCase)
        );
    }

    /// <summary>A name that is longer than a subject is no reason not to write.</summary>
    [Theory]
    [InlineData("Juniper of the Long Meadow behind the Old Mill at the Ford", "Juniper of the Long Meadow behind the Old Mill…: ")]
    [InlineData("👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾", "👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾…: ")]
    public void A_long_name_of_a_horse_is_shortened_in_the_subject_and_whole_in_the_letter(string name, string begins)
    {
        var letter = LetterBook.Write(LetterKind.VetCaution, SampleLetters.Of(LetterKind.VetCaution, default) with { HorseName = name });

        Assert.StartsWith(begins, letter.Subject, StringComparison.Ordinal);
        Assert.Contains(name, letter.Text.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Theory, MemberData(nameof(All))]
    public void The_text_part_says_what_the_html_says(LetterKind kind, string language)
    {
        var letter = Written(kind, ReportLanguage.For(language));
        static string[] Numbers(string text) =>
            [
                .. Regex
                    .Matches(text, @"\d+[.,]?\d*", RegexOptions.None, Regex.InfiniteMatchTimeout)
                    .Select(m => m.Value.TrimEnd('.', ','))
                    .Order(StringComparer.Ordinal)
                    .Distinct(),
            ];
        var addresses = Page(letter).Descendants("a").Select(a => (string)a.Attribute("href")!).ToList();
        var withoutAddresses = addresses.Aggregate(letter.Text, (text, address) => text.Replace(address, "", StringComparison.Ordinal));

        Assert.Equal(Numbers(WordsOf(letter)), Numbers(withoutAddresses));
        Assert.All(addresses, address => Assert.Contains($"{address}\n", letter.Text, StringComparison.Ordinal));
        Assert.All(
            letter.Text.Split('\n').Where(l => !l.TrimStart().StartsWith("http", StringComparison.Ordinal)),
            line => Assert.InRange(line.Length, 0, 76)
        );
    }

    [Theory, MemberData(nameof(All))]
    public void Every_letter_can_be_unsubscribed_from(LetterKind kind, string language)
    {
        var letter = Written(kind, ReportLanguage.For(language));

        Assert.Contains("https://practice.example/u/4Tr", letter.Text, StringComparison.Ordinal);
        Assert.Single(Page(letter).Descendants("a"), a => (string?)a.Attribute("href") == "https://practice.example/u/4Tr");
    }

    [Theory]
    [InlineData(LetterKind.OwnerRefit)]
    [InlineData(LetterKind.OwnerCheck)]
    [InlineData(LetterKind.MeasureAgain)]
    [InlineData(LetterKind.VetCaution)]
    public void The_owner_has_three_answers(LetterKind kind)
    {
        var addresses = Page(Written(kind)).Descendants("a").Select(a => (string?)a.Attribute("href")).ToList();

        Assert.Superset(
            new HashSet<string?>([
                "https://practice.example/a/7Yx?answer=book&t=1",
                "https://practice.example/a/7Yx?answer=later",
                "https://practice.example/a/7Yx?answer=no",
            ]),
            addresses.ToHashSet()
        );
    }

    [Theory]
    [InlineData(LetterKind.OwnerRefit, "Call your vet before anyone changes the saddle")]
    [InlineData(LetterKind.VetCaution, "Call your vet before anyone changes the saddle")]
    [InlineData(LetterKind.VetNote, "We do not diagnose")]
    [InlineData(LetterKind.FitterDay, "Do not measure a horse that will not stand")]
    public void The_cautions_stand_even_where_the_practice_took_their_mark_out(LetterKind kind, string caution)
    {
        var own = new LetterTemplate(
            LetterTemplate.Shipped(kind, ReportLanguage.English).Source.Replace("{% cautions %}", "", StringComparison.Ordinal)
        );
        var letter = LetterBook.Write(kind, SampleLetters.Of(kind, ReportLanguage.English), own);

        Assert.Contains(caution, WordsOf(letter), StringComparison.Ordinal);
        Assert.Contains(caution, letter.Text.Replace("\n  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public void Pictures_are_shown_by_content_id_with_twice_the_dots_and_their_words()
    {
        var letter = Written(LetterKind.OwnerRefit);
        var shown = Page(letter).Descendants("img").ToList();

        Assert.Equal(["cid:back@letter", "cid:chart@letter"], shown.Select(i => (string?)i.Attribute("src")));
        Assert.Equal(["back@letter", "chart@letter"], letter.Images.Select(i => i.ContentId));
        Assert.Contains("threshold 4.0°", (string?)shown[1].Attribute("alt"), StringComparison.Ordinal);
        Assert.All(letter.Images, i => Assert.Equal((2 * i.Width, 2 * i.Height), Charts.Pixels.Size(i.Png)));
    }

    [Fact]
    public void A_letter_without_pictures_and_numbers_is_still_a_letter()
    {
        var letter = LetterBook.Write(LetterKind.OwnerRefit, SampleLetters.English with { Chart = null, Back = null, Numbers = [] });

        Assert.Empty(letter.Images);
        Assert.Empty(Page(letter).Descendants("img"));
        Assert.Contains("Juniper's back has become wider", WordsOf(letter), StringComparison.Ordinal);
    }

    [Fact]
    public void German_letters_have_no_English_left_in_them()
    {
        foreach (var kind in Enum.GetValues<LetterKind>().Except([LetterKind.ManagerDigest, LetterKind.FitterDay]))
        {
            var letter = Written(kind, ReportLanguage.For("de"));
            Assert.DoesNotMatch(
                @"(?i)\b(the|and|your|you|horse|saddle|visit|with|before"
                    + @"|please|letter|vet|book|remind|needed|this|measured|now|left|since)\b",
                $"{letter.Subject} {WordsOf(letter)} {WithoutAddresses(letter.Text)}"
            );
        }
    }

    static string WithoutAddresses(string text) => Regex.Replace(text, @"https?://\S+", "", RegexOptions.None, Regex.InfiniteMatchTimeout);

    [Fact]
    public void German_lists_have_no_English_of_ours_left_in_them()
    {
        // The lists' own words come from the caller; without lists only ours are left.
        foreach (var kind in new[] { LetterKind.ManagerDigest, LetterKind.FitterDay })
        {
            var letter = LetterBook.Write(
                kind,
                SampleLetters.Of(kind, ReportLanguage.For("de")) with
                {
                    Groups = [],
                    Link = new("Zur Übersicht", "https://practice.example/"),
                }
            );
            Assert.DoesNotMatch(
                @"(?i)\b(the|and|your|you|horse|with|nothing|letter|vet|week|list|good|morning|needs?)\b",
                $"{letter.Subject} {WordsOf(letter)} {letter.Text}"
            );
        }
    }

    [Fact]
    public void The_owner_meets_no_jargon_in_our_own_words()
    {
        foreach (var kind in Enum.GetValues<LetterKind>().Where(k => k.ToString().StartsWith("Owner", StringComparison.Ordinal)))
        {
            var letter = LetterBook.Write(
                kind,
                SampleLetters.English with
                {
                    Chart = null,
                    Back = null,
                    Numbers = [],
                    Sentences = ["It changed."],
                }
            );
            Assert.DoesNotMatch(
                @"(?i)\b(slope|opening|half.?area|standard deviation|threshold|baseline|station"
                    + @"|topline|withers|flocking|tree|skew|sd|probability|tracing|event)\b",
                WordsOf(letter)
            );
        }
    }

    [Theory]
    [InlineData("the recipient's name")]
    [InlineData("the horse's name")]
    [InlineData("a sentence that says what was found")]
    [InlineData("the three answers")]
    [InlineData("the address to unsubscribe by")]
    public void What_is_missing_is_said(string missing)
    {
        var content = missing switch
        {
            "the recipient's name" => SampleLetters.English with { RecipientName = " \n" },
            "the horse's name" => SampleLetters.English with { HorseName = "" },
            "a sentence that says what was found" => SampleLetters.English with { Sentences = [""] },
            "the three answers" => SampleLetters.English with { Answers = null },
            _ => SampleLetters.English with { UnsubscribeUrl = "" },
        };

        Assert.Equal(
            $"The letter OwnerRefit needs {missing}.",
            Assert.Throws<LetterContentException>(() => LetterBook.Write(LetterKind.OwnerRefit, content)).Message
        );
    }
}
