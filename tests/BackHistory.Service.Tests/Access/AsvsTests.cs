using System.Globalization;
using System.Text.RegularExpressions;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Access;

/// <summary>The table of security requirements beside this file says the truth about the tests: each that it names is there, and it
/// counts right.</summary>
public sealed partial class AsvsTests
{
    private static readonly string Requirements = File.ReadAllText(
        Path.Combine(Repository.Root, "tests", "BackHistory.Service.Tests", "Access", "security-requirements.md")
    );

    [Fact]
    public void Every_test_that_the_table_of_requirements_names_is_there()
    {
        var tests = Directory
            .EnumerateFiles(Path.Combine(Repository.Root, "tests"), "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .SelectMany(f => Tests().Matches(File.ReadAllText(f)).Select(m => m.Groups["name"].Value))
            .ToHashSet(StringComparer.Ordinal);
        var rows = Rows().Matches(Requirements);
        Assert.True(rows.Count >= 40, $"only {rows.Count} requirements stand in the table");
        var named = rows.SelectMany(r =>
                Names().Matches(r.Groups["tests"].Value).Select(m => (Item: r.Groups["item"].Value, Name: m.Groups["name"].Value))
            )
            .ToList();
        Assert.All(named, n => Assert.True(tests.Contains(n.Name), $"{n.Item} names {n.Name}, and there is no such test"));
    }

    [Fact]
    public void The_table_of_requirements_counts_what_it_holds()
    {
        var rows = Rows().Matches(Requirements);
        Assert.Equal(rows.Count, rows.Select(r => r.Groups["item"].Value).Distinct(StringComparer.Ordinal).Count());
        var tested = rows.Count(r => Names().IsMatch(r.Groups["tests"].Value));
        var said = Counted().Match(Requirements);
        Assert.True(said.Success, "the sentence that counts is missing");
        Assert.Equal(
            (tested, rows.Count),
            (
                int.Parse(said.Groups["n"].Value, CultureInfo.InvariantCulture),
                int.Parse(said.Groups["m"].Value, CultureInfo.InvariantCulture)
            )
        );
    }

    [GeneratedRegex(@"public (?:async )?(?:Task|void|ValueTask) (?<name>[A-Z]\w+)\(", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Tests();

    [GeneratedRegex(@"^\| (?<item>\d+\.\d+\.\d+) \|(?<what>[^|]*)\|(?<tests>[^|]*)\|\s*$", RegexOptions.Multiline, Timeout.Infinite)]
    private static partial Regex Rows();

    [GeneratedRegex(@"`(?<name>[A-Z]\w+)`", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Names();

    [GeneratedRegex(@"(?<n>\d+) of (?<m>\d+) have a test", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Counted();
}
