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

    [Fact]
    public void No_other_room_has_words_for_a_value_of_a_closed_list()
    {
        // The verb's answers name states by their keys; scripts read them.
        var rooms = Outside().Where(s => s.Path != "BackHistory.Trends/Lines/TrendLine.cs");
        var named = rooms.SelectMany(s => Value().Matches(s.Text).Select(m => $"{s.Path}: {m.Value}")).ToList();
        Assert.True(named.Count == 0, string.Join('\n', named));
    }

    [Fact]
    public void No_sentence_stands_where_history_and_shape_answer_with_facts()
    {
        string[] emptied = ["BackHistory.History/Timeline/", "BackHistory.Shape/Quality/", "BackHistory.Shape/Gauges/"];
        var sources = Outside().Where(s => emptied.Any(e => s.Path.StartsWith(e, StringComparison.Ordinal))).ToList();
        Assert.All(emptied, e => Assert.Contains(sources, s => s.Path.StartsWith(e, StringComparison.Ordinal)));
        var said = sources
            // What is wrong with a gauge's table is a refusal.
            .Where(s => s.Path != "BackHistory.Shape/Gauges/Gauge.cs")
            .SelectMany(s => Sentence().Matches(Comment().Replace(s.Text, "")).Select(m => $"{s.Path}: {m.Value}"))
            .ToList();
        Assert.True(said.Count == 0, string.Join('\n', said));
    }

    [Theory]
    [InlineData("ReminderState.PutOff => \"put off\",")]
    [InlineData("PracticeRole.ReadOnly => $\"{name} may look\",")]
    [InlineData("Answer.Book => \"Answered: please book.\",")]
    [InlineData("WatchState.Refit or WatchState.Watch =>\n                \"moving\"")]
    public void Words_for_a_value_are_seen(string source) => Assert.Matches(Value(), source);

    [Theory]
    [InlineData("VisitNoted => \"A note was written.\",")]
    [InlineData("$\"Visit corrected: {d.Reason}\"")]
    [InlineData("\"Visit.\"")]
    public void A_sentence_is_seen(string source) => Assert.Matches(Sentence(), source);

    [Theory]
    [InlineData("[\"gap\", \"level-tilt\"]")]
    [InlineData("mark-lateral@{mark}")]
    public void A_key_is_no_sentence(string source) => Assert.DoesNotMatch(Sentence(), source);

    [Theory]
    [InlineData("language.Pick(\"a\", \"b\")")]
    [InlineData("language == \"de\" ? a : b")]
    [InlineData("language is (\"en\" or \"de\")")]
    [InlineData("x = language == ReportLanguage.For(\"nl\") ? \"a\" : \"b\"")]
    [InlineData("person.Language == \"en\"")]
    public void A_choice_is_seen_however_it_is_written(string source) => Assert.Matches(Choice(), source);

    private static IEnumerable<(string Path, string Text)> Outside() =>
        Sources.All().Where(s => !s.Path.StartsWith("BackHistory.Language/", StringComparison.Ordinal));

    [GeneratedRegex(
        "\\b(ReminderState|ReminderFamily|ReminderRule|MuteReason|Answer|LetterKind|LetterState|PracticeRole|SharedWith|SharedScope"
            + "|CareRole|CareKind|WorkLoad|WatchState|UnsaidReason)\\.[A-Z]\\w+ =>\\s*\\$?\"",
        RegexOptions.ExplicitCapture,
        Timeout.Infinite
    )]
    private static partial Regex Value();

    [GeneratedRegex("\"[^\"\\n]*([A-Za-z]{2} [A-Za-z{]|[a-z]\\.(?=\"))[^\"\\n]*\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Sentence();

    [GeneratedRegex("//.*", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Comment();

    [GeneratedRegex(
        "\\bPick\\(|\"de\"|[lL]anguage\\s*(==|!=)|[lL]anguage is (not )?\\(?\"|== ReportLanguage\\.|[lL]anguage switch",
        RegexOptions.ExplicitCapture,
        Timeout.Infinite
    )]
    private static partial Regex Choice();
}
