using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.RegularExpressions;

namespace BackHistory.Browser.Tests;

/// <summary>What the pages of twenty horses say, read as somebody reads it who knows horses and no statistics.</summary>
public sealed partial class PlainLanguageTests(RunningPractice practice)
{
    /// <summary>The owner's sentence: what somebody of about fourteen reads easily.</summary>
    private const double MostForOwners = 9;

    /// <summary>What stands open on the fitter's page, numbers and all.</summary>
    private const double MostForFitters = 11;

    /// <summary>Words of statistics, of programming and of our own house that no reader was taught.</summary>
    private static readonly string[] Unexplained =
    [
        "probability",
        "threshold",
        "baseline",
        "standard deviation",
        "variance",
        "posterior",
        "prior",
        "p-value",
        "significant",
        "confidence",
        "interval",
        "percentile",
        "quantile",
        "drift",
        "regression",
        "asymmetry",
        "atrophy",
        "contour",
        "registered",
        "station",
        "event",
        "stream",
        "projection",
        "read model",
        "null",
        "deg",
        "cm2",
        "skew",
        "opening angle",
        "detectable",
        "hypothesis",
    ];

    [Fact]
    public async Task The_sentences_of_twenty_horses_are_plain()
    {
        using var program = practice.Program();
        var horses = (await program.GetFromJsonAsync<CaseloadPage>("/api/caseload?limit=20&sort=name"))!.Items;
        Assert.Equal(20, horses.Count);
        var hard = new List<string>();
        foreach (var horse in horses)
        {
            var page = await program.GetStringAsync($"/horses/{horse.HorseId}");
            var section = Since().Match(page).Groups["text"].Value;
            // What is folded away is for whoever asks why.
            var open = Folded().Replace(section, "");
            var owner = Paragraphs()
                .Matches(open)
                .Where(m => m.Groups["class"].Value.Contains("lead", StringComparison.Ordinal))
                .Select(m => Text(m.Groups["text"].Value))
                .ToList();
            var all = Paragraphs().Matches(open).Select(m => Text(m.Groups["text"].Value)).ToList();
            Assert.NotEmpty(all);
            hard.AddRange(
                all.SelectMany(says =>
                    Unexplained
                        .Where(term => Regex.IsMatch(says, $@"\b{term}\b", RegexOptions.IgnoreCase, Regex.InfiniteMatchTimeout))
                        .Select(term => $"{horse.Name}: “{term}” in: {says}")
                )
            );
            hard.AddRange(
                owner
                    .Where(says => FleschKincaid.Grade(says) > MostForOwners)
                    .Select(says =>
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{horse.Name}: grade {FleschKincaid.Grade(says):0.0}, for an owner: {says}"
                        )
                    )
            );
            var whole = string.Join(' ', all);
            if (FleschKincaid.Grade(whole) > MostForFitters)
                hard.Add(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{horse.Name}: grade {FleschKincaid.Grade(whole):0.0}, for a fitter: {whole}"
                    )
                );
        }

        Assert.True(hard.Count == 0, string.Join('\n', hard));
    }

    [Theory]
    [InlineData("horse", 1)]
    [InlineData("saddle", 2)]
    [InlineData("measured", 2)]
    [InlineData("shoulder", 2)]
    [InlineData("area", 3)]
    [InlineData("behind", 2)]
    [InlineData("checked", 1)]
    [InlineData("veterinary", 5)]
    [InlineData("surgeon", 2)]
    [InlineData("probability", 5)]
    public void Syllables_are_counted_as_a_dictionary_divides_the_word(string word, int syllables) =>
        Assert.Equal(syllables, FleschKincaid.Syllables(word));

    [Fact]
    public void A_sentence_of_long_words_is_of_a_higher_grade_than_one_of_short_words()
    {
        // 0.39 · 5 + 11.8 · 5/5 − 15.59
        Assert.Equal(-1.84, FleschKincaid.Grade("The horse is not well."), 2);
        Assert.True(FleschKincaid.Grade("Veterinary examination of musculoskeletal asymmetry necessitates palpation.") > 20);
    }

    private static string Text(string html) => WebUtility.HtmlDecode(Space().Replace(Tag().Replace(html, " "), " ")).Trim();

    [GeneratedRegex("""<section[^>]*aria-labelledby="since".*?</h2>(?<text>.*?)</section>""", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Since();

    [GeneratedRegex("<details.*?</details>", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Folded();

    [GeneratedRegex("""<p(?: class="(?<class>[^"]*)")?>(?<text>.*?)</p>""", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Paragraphs();

    [GeneratedRegex("<[^>]*>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Tag();

    [GeneratedRegex(@"\s+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Space();
}
