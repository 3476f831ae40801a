using System.Text.RegularExpressions;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>Traps of the markup that no compiler warns of.</summary>
public sealed partial class MarkupTests
{
    private static readonly string Pages = Path.Combine(Repository.Root, "src", "BackHistory.Service");

    public static TheoryData<string> Components =>
        [
            .. Directory
                .EnumerateFiles(Pages, "*.razor", SearchOption.AllDirectories)
                .Where(f =>
                    !f.Contains("node_modules", StringComparison.Ordinal)
                    && !f.Contains("/obj/", StringComparison.Ordinal)
                    && !f.Contains("/bin/", StringComparison.Ordinal)
                )
                .Select(f => Path.GetRelativePath(Pages, f))
                .Order(StringComparer.Ordinal),
        ];

    /// <summary>
    /// The compiler of SDK 10.0.401 encodes an entity once more where its element or its attribute holds an expression: <c>&amp;quot;</c>
    /// reaches the page as six letters. Real quotes and ampersands serve everywhere.
    /// </summary>
    [Theory]
    [MemberData(nameof(Components))]
    public void No_attribute_holds_an_entity(string component)
    {
        var wrong = AttributeValues(File.ReadAllText(Path.Combine(Pages, component))).Where(v => Entity().IsMatch(v)).ToList();
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    /// <summary>The page to which a form led says what was done, in words of its folder's.</summary>
    [Theory]
    [InlineData("Horses", "Saved.razor")]
    [InlineData("Saddles", "SaddleSaved.razor")]
    public void What_a_form_says_that_it_did_has_its_sentence(string folder, string words)
    {
        var said = File.ReadAllText(Directory.EnumerateFiles(Pages, words, SearchOption.AllDirectories).Single());
        var given = Components
            .Select(c => c.Data)
            .Where(c => c.StartsWith(folder + "/", StringComparison.Ordinal))
            .SelectMany(c => Given().Matches(File.ReadAllText(Path.Combine(Pages, c))).Select(m => m.Groups["what"].Value))
            .Distinct()
            .ToList();
        Assert.True(given.Count > 5, $"only {given.Count} forms of {folder} were found");
        Assert.All(given, what => Assert.Contains($"[\"{what}\"] =", said, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("<a href=\"/x?a=@A&amp;b=1\">", true)]
    [InlineData("<a href=\"/x?a=@(b ? \"one\" : \"two\")&amp;c=@d\">", true)]
    [InlineData("<form data-match=\"&quot;@Version&quot;\">", true)]
    [InlineData("<form data-base=\"{&quot;source&quot;:null}\">", true)]
    [InlineData("<a href=\"/x?a=@A&b=1\">", false)]
    [InlineData("<td class=\"r\">&ensp;@Day &amp; more</td>", false)]
    public void An_entity_is_found_in_the_attribute_and_not_in_the_text(string markup, bool found) =>
        Assert.Equal(found, AttributeValues(markup).Any(v => Entity().IsMatch(v)));

    /// <summary>Browsers read a pattern with the flag "v", in which a hyphen in a class is written with a backslash; one that they cannot
    /// read holds nothing back.</summary>
    [Theory]
    [MemberData(nameof(Components))]
    public void Every_pattern_of_a_field_is_one_that_todays_browsers_read(string component) =>
        Assert.All(
            Pattern().Matches(File.ReadAllText(Path.Combine(Pages, component))),
            p => Assert.DoesNotMatch(BareHyphen(), p.Groups["pattern"].Value)
        );

    /// <summary>One whose second read answers later than its first would be drawn half read: seen as a page that breaks on a busy
    /// machine.</summary>
    [Theory]
    [MemberData(nameof(Components))]
    public void Every_component_that_reads_is_drawn_after_all_of_its_reads(string component)
    {
        if (component == "Web/MainLayout.razor")
            return;
        Assert.DoesNotContain("OnInitializedAsync", File.ReadAllText(Path.Combine(Pages, component)), StringComparison.Ordinal);
    }

    /// <summary>The values of attributes, with the expressions inside them, whose own quotes do not end them.</summary>
    private static IEnumerable<string> AttributeValues(string markup)
    {
        for (var at = markup.IndexOf("=\"", StringComparison.Ordinal); at >= 0; at = markup.IndexOf("=\"", at, StringComparison.Ordinal))
        {
            var start = at + 2;
            var (end, depth) = (start, 0);
            for (; end < markup.Length && (markup[end] != '"' || depth > 0); end++)
            {
                if (markup[end] == '(' && (depth > 0 || (end > start && markup[end - 1] == '@')))
                    depth++;
                else if (markup[end] == ')' && depth > 0)
                    depth--;
            }

            yield return markup[start..Math.Min(end, markup.Length)];
            at = Math.Min(end + 1, markup.Length);
        }
    }

    [GeneratedRegex(@"Give\(Form!?, ""(?<what>[a-z-]+)""", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Given();

    [GeneratedRegex("&(amp|quot|lt|gt|#\\w+);", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Entity();

    [GeneratedRegex("pattern=\"(?<pattern>[^\"]*)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Pattern();

    [GeneratedRegex(@"\[[^\]]*(?<!\\)-\]|\[-", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex BareHyphen();
}
