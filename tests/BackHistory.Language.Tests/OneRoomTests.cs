using System.Text.RegularExpressions;

namespace BackHistory.Language.Tests;

/// <summary>Words stand in this room: no other chooses between languages.</summary>
public sealed partial class OneRoomTests
{
    [Fact]
    public void No_other_room_picks_one_of_two_texts_by_the_language()
    {
        var picked = Sources
            .All()
            .Where(s => !s.Path.StartsWith("BackHistory.Language/", StringComparison.Ordinal))
            // The invented practice has people who read German; that is its data.
            .Where(s => !s.Path.EndsWith("/InventedPractice.cs", StringComparison.Ordinal))
            .SelectMany(s => Choice().Matches(s.Text).Select(m => $"{s.Path}: {m.Value}"))
            .ToList();

        Assert.True(picked.Count == 0, string.Join('\n', picked));
    }

    [Theory]
    [InlineData("language.Pick(\"a\", \"b\")")]
    [InlineData("language == \"de\" ? a : b")]
    [InlineData("language is (\"en\" or \"de\")")]
    [InlineData("x = language == ReportLanguage.Of(\"nl\") ? \"a\" : \"b\"")]
    [InlineData("person.Language == \"en\"")]
    public void A_choice_is_seen_however_it_is_written(string source) => Assert.Matches(Choice(), source);

    [GeneratedRegex(
        "\\bPick\\(|\"de\"|[lL]anguage\\s*(==|!=)|[lL]anguage is (not )?\\(?\"|== ReportLanguage\\.|[lL]anguage switch",
        RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex Choice();
}
