using System.Text.RegularExpressions;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>Whoever looks for a type finds its file by name.</summary>
public sealed partial class OneTypeAFileTests
{
    /// <summary>Files that hold more, each with its reason.</summary>
    private static readonly Dictionary<string, string> Reasons = new(StringComparer.Ordinal)
    {
        ["BackHistory.History/Reminders/Policy/ReminderSteps.cs"] = "the steps are a closed union whose base stands beside it",
    };

    public static TheoryData<string> Rooms =>
        ["Shape", "Trends", "Formats", "History", "Language", "Store", "Reports", "Application", "Service"];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void A_file_holds_one_public_type(string room)
    {
        var files = Directory
            .EnumerateFiles(Path.Combine(Sources, $"BackHistory.{room}"), "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .ToList();
        Assert.NotEmpty(files);
        var crowded = files
            .Select(f => (File: Path.GetRelativePath(Sources, f).Replace('\\', '/'), Types: PublicTypes(File.ReadAllText(f))))
            .Where(f => f.Types.Count > 1 && !IsTableOfContents(f.File) && !IsClosedUnion(f.Types) && !Reasons.ContainsKey(f.File))
            .Select(f => $"{f.File}: {string.Join(", ", f.Types.Select(t => t.Name))}")
            .ToList();
        Assert.Empty(crowded);
    }

    [Fact]
    public void Every_exception_is_still_one() =>
        Assert.All(Reasons.Keys, f => Assert.True(PublicTypes(File.ReadAllText(Path.Combine(Sources, f))).Count > 1, f));

    /// <summary>The events of a stream, and what can be asked of it, are read together.</summary>
    private static bool IsTableOfContents(string file) =>
        file.EndsWith("Events.cs", StringComparison.Ordinal) || file.EndsWith("Commands.cs", StringComparison.Ordinal);

    /// <summary>A base and all that it can be.</summary>
    private static bool IsClosedUnion(IReadOnlyList<(string Name, string Head)> types) =>
        types.Any(b =>
            (b.Head.Contains("abstract ", StringComparison.Ordinal) || b.Head.Contains("interface ", StringComparison.Ordinal))
            && types.All(t =>
                t.Name == b.Name || Regex.IsMatch(t.Head, $@"[:,]\s*{b.Name}\b", RegexOptions.None, Regex.InfiniteMatchTimeout)
            )
        );

    /// <summary>Types outside of others, each with what stands before its body; the parts of one count once.</summary>
    private static List<(string Name, string Head)> PublicTypes(string source) =>
        [.. Declaration().Matches(source).Select(m => (m.Groups["name"].Value, m.Value)).DistinctBy(t => t.Item1)];

    [GeneratedRegex(
        @"^public (?:(?:static|sealed|abstract|partial|readonly|ref) )*"
            + @"(?:record struct|record class|class|record|struct|enum|interface|delegate \S+) (?<name>\w+)[^;{]*",
        RegexOptions.Multiline | RegexOptions.ExplicitCapture,
        Timeout.Infinite
    )]
    private static partial Regex Declaration();

    private static string Sources { get; } = Path.Combine(Repository.Root, "src");
}
