using System.Text.RegularExpressions;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Shape.Measures;

namespace BackHistory.Language.Tests;

/// <summary>Which measures and stations are shown is said once, in the rooms that own them, not again on each page.</summary>
public sealed partial class MeasureKeysTests
{
    private static readonly HashSet<string> Keys = [.. Hyphened()];

    [Fact]
    public void No_outer_room_names_a_measure_or_a_station_by_its_key()
    {
        string[] outer = ["BackHistory.Service/", "BackHistory.Reports/", "BackHistory.Application/"];
        var sources = Sources
            .All()
            .Where(s => outer.Any(o => s.Path.StartsWith(o, StringComparison.Ordinal)))
            // The invented practice and its backs are data.
            .Where(s => !s.Path.StartsWith("BackHistory.Application/Demo/", StringComparison.Ordinal))
            .ToList();
        Assert.True(sources.Count > 300, "the sources were not found");

        var named = sources.SelectMany(s => Named(s.Text).Select(key => $"{s.Path}: {key}")).ToList();

        Assert.True(named.Count == 0, string.Join('\n', named));
    }

    [Theory]
    [InlineData("Measure=\"slope-left\"")]
    [InlineData("key is \"width@100\"")]
    [InlineData("station ?? \"behind-shoulder\"")]
    public void A_key_is_seen(string source) => Assert.NotEmpty(Named(source));

    private static IEnumerable<string> Named(string source) =>
        Literal()
            .Matches(source)
            .Select(m => m.Groups["key"].Value)
            .Where(k => Keys.Contains(k) || Keys.Contains(MeasureDefinition.FamilyOf(k)));

    /// <summary>Keys of one plain word (weight, condition) name kinds of entries and columns of tables too.</summary>
    private static IEnumerable<string> Hyphened() =>
        MeasureRegistry
            .All.SelectMany(m => (string[])[m.Key, m.Family])
            .Concat(Protocols.Default.Select(s => s.Key))
            .Where(k => k.Contains('-', StringComparison.Ordinal) || k.Contains('@', StringComparison.Ordinal));

    [GeneratedRegex("\"(?<key>[a-z]+(-[a-z]+)*(@[a-z0-9-]+)?)\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Literal();
}
