using System.Xml.Linq;
using BackHistory.History.Reminders;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language.Tests;

/// <summary>A third language is one folder: this one lies beside these tests, and no line of the program knows of it.</summary>
public sealed class ThirdLanguageTests
{
    private static readonly Languages Known = Languages.In(typeof(Languages).Assembly, typeof(ThirdLanguageTests).Assembly);

    private static readonly ReportLanguage Esperanto = Known.Find("eo");

    [Fact]
    public void Its_folder_is_all_that_it_takes_to_be_known()
    {
        Assert.Equal(Languages.Shipped.Tags.Append("eo").Order(StringComparer.Ordinal), Known.Tags.Order(StringComparer.Ordinal));
        Assert.Equal("Esperanto", Esperanto.EnglishName);
        Assert.False(Languages.Shipped.Knows("eo"));
    }

    [Fact]
    public void A_letter_is_written_in_it()
    {
        var letter = LetterBook.Write(
            LetterKind.OwnerRefit,
            new LetterModel
            {
                Language = Esperanto,
                PracticeName = "Test Practice",
                RecipientName = "Test Person",
                HorseName = "Amber",
                Sentences = ["Io ŝanĝiĝis."],
                Answers = new LetterAnswers("https://example.org/a", "https://example.org/b", "https://example.org/c"),
                UnsubscribeUrl = "https://example.org/stop",
            }
        );

        Assert.Equal("Tempo rigardi la selon", letter.Subject);
        Assert.Equal("eo", (string?)XDocument.Parse(letter.Html).Root!.Attribute("lang"));
        Assert.Contains("Ĉesigi tiajn leterojn", letter.Html, StringComparison.Ordinal);
        // What it lacks is said in English.
        Assert.Contains("We do not diagnose", letter.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_chart_is_titled_in_it()
    {
        var input = new RefitForecastInput
        {
            Finding = "",
            Subject = "",
            Months = [new RefitMonth(new DateOnly(2026, 11, 1), 2, 2, 2, false)],
            Language = Esperanto,
        };

        Assert.Contains(
            "Atendataj alĝustigoj",
            RefitForecastChart.Draw(input, ChartTheme.Light, new ChartSize(900, 460)).AltText,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_page_says_its_measures_places_and_days_in_it()
    {
        var say = new Formatter(LengthUnit.Millimetres, Esperanto);
        var today = new DateOnly(2026, 11, 29);

        Assert.Equal("Larĝo 100 mm malsupre, dorsmezo", say.Subject("width@100", "mid-back"));
        Assert.Equal("47,3°", say.Number(47.26, "deg"));
        Assert.Equal("hodiaŭ", say.Ago(today, today));
        Assert.Equal("antaŭ 3 tagoj", say.Ago(today.AddDays(-3), today));
        Assert.Equal("Weight", say.Measure("weight"));
    }
}
