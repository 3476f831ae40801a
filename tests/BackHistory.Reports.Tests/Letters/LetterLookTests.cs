using System.Text.RegularExpressions;
using System.Xml.Linq;
using BackHistory.History.Reminders;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Letters;

namespace BackHistory.Reports.Tests.Letters;

public class LetterLookTests
{
    static readonly XElement Page = XDocument.Parse(LetterBook.Write(LetterKind.OwnerRefit, SampleLetters.English).Html).Root!;

    static string? Colour(XElement element, string property) =>
        Regex.Match(
            (string?)element.Attribute("style") ?? "",
            $@"(?<![-\w]){property}:(#[0-9A-F]{{6}})",
            RegexOptions.None,
            Regex.InfiniteMatchTimeout
        )
            is { Success: true } found
            ? found.Groups[1].Value
            : null;

    [Fact]
    public void Every_text_can_be_read_on_its_ground()
    {
        // WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1.
        var checkedTexts = 0;
        foreach (
            var element in Page.Descendants("body").Descendants().Where(e => e.Nodes().OfType<XText>().Any(t => t.Value.Trim().Length > 0))
        )
        {
            var ink = element.AncestorsAndSelf().Select(e => Colour(e, "color")).First(c => c is not null)!;
            var ground = element.AncestorsAndSelf().Select(e => Colour(e, "background")).First(c => c is not null)!;
            Assert.True(Colours.Contrast(ink, ground) >= 4.5, $"{ink} on {ground}: {element.Value}");
            checkedTexts++;
        }
        Assert.True(checkedTexts > 15);
    }

    [Fact]
    public void Every_text_can_be_read_in_the_dark_too()
    {
        var style = Page.Descendants("style").Single().Value;
        string Dark(string name, string property) =>
            Regex
                .Match(style, $@"\.{name}\{{[^}}]*?(?<![-\w]){property}:(#[0-9A-F]{{6}})", RegexOptions.None, Regex.InfiniteMatchTimeout)
                .Groups[1]
                .Value;
        var (card, ground) = (Dark("card", "background"), Dark("ground", "background"));

        Assert.All(
            new[]
            {
                (Dark("ink", "color"), card),
                (Dark("muted", "color"), card),
                (Dark("muted", "color"), ground),
                (Dark("link", "color"), card),
                (Dark("link", "color"), ground),
                (Dark("ink", "color"), Dark("care", "background")),
                (Dark("second", "color"), card),
                ("#FFFFFF", Dark("first", "background")),
            },
            pair => Assert.True(Colours.Contrast(pair.Item1, pair.Item2) >= 4.5, pair.ToString())
        );
    }

    [Fact]
    public void An_answer_can_be_hit_with_a_thumb()
    {
        foreach (var answer in Page.Descendants("a").Where(a => (string?)a.Attribute("class") is "first" or "second"))
        {
            // Line and padding and border: at least 44 px (experience.md).
            int Number(string property, int part = 0) =>
                int.Parse(
                    Regex
                        .Match(
                            (string)answer.Attribute("style")!,
                            $@"(?<![-\w]){property}:((\d+)px)",
                            RegexOptions.None,
                            Regex.InfiniteMatchTimeout
                        )
                        .Groups[2]
                        .Value,
                    System.Globalization.CultureInfo.InvariantCulture
                );
            Assert.True(Number("line-height") + 2 * Number("padding") + 2 >= 44);
        }
    }

    [Fact]
    public void Nothing_is_fetched_from_outside_to_show_a_letter() =>
        Assert.All(
            Page.Descendants().Attributes().Where(a => a.Name == "src"),
            a => Assert.StartsWith("cid:", a.Value, StringComparison.Ordinal)
        );
}
