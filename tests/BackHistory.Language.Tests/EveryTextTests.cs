using System.Text.RegularExpressions;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Sharing;
using BackHistory.History.Timeline;
using BackHistory.Language.Timeline;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language.Tests;

/// <summary>Every text is there in every language, has the same places to fill, and is said somewhere.</summary>
public sealed partial class EveryTextTests
{
    /// <summary>Keys that the program puts together, each from a key of its own data.</summary>
    private static readonly string[] PutTogether =
    [
        "measure.",
        "station.",
        "month.",
        "finding.side.",
        "finding.place.",
        "decision.side.",
        "share-refused.",
        "letter-insert.",
        "tracing-method.",
        "import.column.",
        "import.choice.",
        .. ClosedLists().Select(l => l.Family).Distinct(),
    ];

    /// <summary>The closed lists whose values have words: what stands under the family, and each value's key.</summary>
    private static IEnumerable<(string Family, string Key)> ClosedLists() =>
        [
            .. Enum.GetValues<TimelineFactKind>().Select(k => ("timeline.", TimelineSentences.KeyOf(k))),
            .. Enum.GetValues<TimelineWord>().Select(w => ("timeline.", TimelineSentences.KeyOf(w))),
            .. Named<PersonRole>(),
            .. Named<ReminderFamily>(),
            .. Named<ReminderState>(),
            .. Named<Answer>(),
            .. Named<LetterKind>(),
            .. Named<ConsentKind>(),
            .. Named<Sex>(),
            .. Named<SharedWith>(),
            .. Named<SharedScope>(),
            .. Named<WatchState>(),
            .. PracticeRoles().Select(r => ("practice-role.", "practice-role." + ClosedNames.Kebab(r))),
        ];

    private static IEnumerable<(string Family, string Key)> Named<T>()
        where T : struct, Enum => Enum.GetValues<T>().Select(v => (ClosedNames.Kebab(typeof(T).Name) + ".", ClosedNames.KeyOf(v)));

    /// <summary>Roles are a matter of the store's, which this room does not know.</summary>
    private static IEnumerable<string> PracticeRoles() =>
        Role()
            .Matches(Sources.All().Single(s => s.Path.EndsWith("/PracticeRole.cs", StringComparison.Ordinal)).Text.Split('{')[1])
            .Select(m => m.Groups["role"].Value);

    private static LanguageTexts English => Languages.Shipped.English;

    private static IEnumerable<LanguageTexts> Others => Languages.Shipped.Texts.Where(t => t != English);

    [Fact]
    public void Every_language_has_every_text_and_no_other()
    {
        Assert.NotEmpty(Others);
        foreach (var other in Others)
        {
            Assert.Equal(English.Texts.Keys.Order(StringComparer.Ordinal), other.Texts.Keys.Order(StringComparer.Ordinal));
            Assert.Equal(English.Documents.Keys.Order(StringComparer.Ordinal), other.Documents.Keys.Order(StringComparer.Ordinal));
        }
    }

    [Fact]
    public void No_text_is_empty() =>
        Assert.All(Languages.Shipped.Texts.SelectMany(t => t.Texts), t => Assert.False(string.IsNullOrWhiteSpace(t.Value), t.Key));

    /// <summary>A language may leave out what it does not say (a side that its grammar names elsewhere), never ask for more.</summary>
    [Fact]
    public void No_language_asks_for_a_place_that_English_does_not_fill()
    {
        foreach (var other in Others)
        foreach (var (key, text) in other.Texts)
        {
            var extra = Places(text).Except(Places(English.Texts[key])).ToList();
            // Each keeps what was measured or named; only a place of the back may be said otherwise.
            var lost = key.StartsWith("finding.", StringComparison.Ordinal) ? [] : Places(English.Texts[key]).Except(Places(text)).ToList();
            Assert.True(extra.Count == 0 && lost.Count == 0, $"{other.Tag} {key}: {string.Join(' ', extra.Concat(lost))}");
        }
    }

    [Fact]
    public void Every_text_that_the_program_names_is_there_and_none_is_left_over()
    {
        var named = Named();
        var missing = named.Where(k => !English.Texts.ContainsKey(k)).Order(StringComparer.Ordinal).ToList();
        Assert.True(missing.Count == 0, "not there: " + string.Join(' ', missing));
        var unused = English
            .Texts.Keys.Where(k => !named.Contains(Subjectless(k)) && !PutTogether.Any(p => k.StartsWith(p, StringComparison.Ordinal)))
            .Order(StringComparer.Ordinal)
            .ToList();
        Assert.True(unused.Count == 0, "said nowhere: " + string.Join(' ', unused));
        Assert.True(named.Count > 200, "the program was not read");
    }

    [Fact]
    public void Every_value_of_a_closed_list_has_words_in_every_language_and_no_words_stand_for_a_value_that_is_not_there()
    {
        var keys = ClosedLists().Select(l => l.Key).ToHashSet(StringComparer.Ordinal);
        Assert.True(keys.Count > 150, $"{keys.Count} values");
        foreach (var texts in Languages.Shipped.Texts)
        {
            var missing = keys.Where(k => !texts.Texts.ContainsKey(k)).Order(StringComparer.Ordinal).ToList();
            Assert.True(missing.Count == 0, $"{texts.Tag} lacks {string.Join(' ', missing)}");
        }

        var families = ClosedLists().Select(l => l.Family).ToHashSet(StringComparer.Ordinal);
        var unknown = English
            .Texts.Keys.Where(k => families.Any(f => k.StartsWith(f, StringComparison.Ordinal)))
            .Where(k => !keys.Contains(k) && !keys.Contains(k[..k.LastIndexOf('.')]))
            .ToList();
        Assert.True(unknown.Count == 0, "of no value: " + string.Join(' ', unknown));
    }

    [Fact]
    public void Every_measure_has_a_name_and_a_definition_in_every_language()
    {
        foreach (var texts in Languages.Shipped.Texts)
        foreach (var measure in MeasureRegistry.All)
        {
            var key = $"measure.{measure.Family}";
            Assert.True(texts.Texts.ContainsKey(key) || texts.Texts.ContainsKey($"{key}.at"), $"{texts.Tag} has no name for {measure.Key}");
            Assert.True(texts.Texts.ContainsKey($"{key}.definition"), $"{texts.Tag} does not say what {measure.Key} is");
        }
    }

    [Fact]
    public void No_measure_has_words_that_is_not_known()
    {
        // Both halves together, as the condition chart shows them.
        string[] pairs = ["slope", "half-area", "fill", "half-volume", "read-slope", "other"];
        var families = MeasureRegistry.All.Select(m => m.Family).Concat(pairs).ToHashSet(StringComparer.Ordinal);
        Assert.All(
            English.Texts.Keys.Where(k => k.StartsWith("measure.", StringComparison.Ordinal)),
            k => Assert.Contains(k.Split('.')[1], families)
        );
    }

    [Fact]
    public void Every_kind_of_letter_has_a_name_a_purpose_and_a_template_in_every_language()
    {
        var kinds = Enum.GetValues<LetterKind>();
        foreach (var texts in Languages.Shipped.Texts)
        {
            Assert.Equal(
                kinds.SelectMany(k => new[] { ClosedNames.KeyOf(k), $"{ClosedNames.KeyOf(k)}.meaning" }).Order(),
                texts.Texts.Keys.Where(k => k.StartsWith("letter-kind.", StringComparison.Ordinal)).Order()
            );
            Assert.Equal(kinds.Select(k => $"Letters/{k}.liquid").Order(), texts.Documents.Keys.Order());
        }

        Assert.Equal("To the owner: have the saddle checked", ReportLanguage.English.Name(LetterKind.OwnerRefit, "meaning"));
    }

    private static string Subjectless(string key) => key.EndsWith(".subject", StringComparison.Ordinal) ? key[..^".subject".Length] : key;

    private static HashSet<string> Places(string text) => [.. Place().Matches(text).Select(m => m.Value)];

    /// <summary>The keys that stand in the sources: what begins as a key of English does and is written as one.</summary>
    private static HashSet<string> Named()
    {
        var first = English.Texts.Keys.Select(k => k[..k.IndexOf('.', StringComparison.Ordinal)]).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. Sources
                .All()
                .SelectMany(s => Key().Matches(s.Text).Select(m => m.Groups["key"].Value))
                // Names of files look alike.
                .Where(k => !k.EndsWith(".svg", StringComparison.Ordinal))
                .Where(k => first.Contains(k[..k.IndexOf('.', StringComparison.Ordinal)])),
        ];
    }

    [GeneratedRegex("\"(?<key>[a-z0-9-]+(?:\\.[a-z0-9-]+)+)\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Key();

    [GeneratedRegex("^    (?<role>[A-Z]\\w+),", RegexOptions.ExplicitCapture | RegexOptions.Multiline, Timeout.Infinite)]
    private static partial Regex Role();

    [GeneratedRegex("\\{\\d+\\}", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Place();
}
