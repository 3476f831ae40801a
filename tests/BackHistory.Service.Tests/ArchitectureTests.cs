using System.Text.RegularExpressions;
using ArchUnitNET.Domain;
using ArchUnitNET.Fluent;
using ArchUnitNET.Loader;
using BackHistory.Testing;
using static ArchUnitNET.Fluent.ArchRuleDefinition;

namespace BackHistory.Service.Tests;

/// <summary>The arrows between the rooms, and which room may name which library.</summary>
public sealed partial class ArchitectureTests
{
    private static readonly System.Reflection.Assembly[] Rooms =
    [
        typeof(BackHistory.Shape.Tracing).Assembly,
        typeof(BackHistory.Trends.Series.TrendFit).Assembly,
        typeof(BackHistory.Formats.Sheets.Sheet).Assembly,
        typeof(BackHistory.History.IHappened).Assembly,
        typeof(BackHistory.Store.Commands).Assembly,
        typeof(BackHistory.Language.Languages).Assembly,
        typeof(BackHistory.Reports.Charts.Chart).Assembly,
        typeof(BackHistory.Application.Registration.Acts).Assembly,
        typeof(Host).Assembly,
    ];

    private static readonly Architecture House = new ArchLoader().LoadAssembliesIncludingDependencies(Rooms).Build();

    [Theory]
    [InlineData("Shape", "Trends|Formats|History|Language|Store|Reports|Application|Service")]
    [InlineData("Trends", "Shape|Formats|History|Language|Store|Reports|Application|Service")]
    [InlineData("Formats", "Trends|History|Language|Store|Reports|Application|Service")]
    [InlineData("History", "Formats|Language|Store|Reports|Application|Service")]
    [InlineData("Store", "Formats|Language|Reports|Application|Service")]
    [InlineData("Language", "Formats|Store|Reports|Application|Service")]
    [InlineData("Reports", "Store|Application|Service")]
    [InlineData("Application", "Service")]
    public void A_room_knows_only_the_rooms_below_it(string room, string others) =>
        Holds(
            Types()
                .That()
                .ResideInNamespaceMatching($@"^BackHistory\.{room}(\.|$)")
                .Should()
                .NotDependOnAnyTypesThat()
                .ResideInNamespaceMatching($@"^BackHistory\.({others})(\.|$)")
        );

    [Theory]
    [InlineData("Store", "Marten|Weasel|JasperFx|Npgsql")]
    [InlineData("Formats", "CsvHelper|DocumentFormat|SharpGLTF")]
    [InlineData("Language", @"Microsoft\.Extensions\.Localization|System\.Resources")]
    [InlineData("Reports", "ScottPlot|PdfSharp|Fluid|Ical")]
    [InlineData("Service", @"Hangfire|MailKit|MimeKit|Microsoft\.AspNetCore")]
    public void A_library_is_named_in_its_own_room_only(string room, string libraries) =>
        Holds(
            Types()
                .That()
                .ResideInNamespaceMatching($@"^BackHistory\.(?!{room}(\.|$))")
                .Should()
                .NotDependOnAnyTypesThat()
                .ResideInNamespaceMatching($@"^({libraries})(\.|$)")
        );

    [Theory]
    [InlineData("Shape")]
    [InlineData("Trends")]
    public void The_pure_rooms_do_no_input_or_output(string room) =>
        Holds(
            Types()
                .That()
                .ResideInNamespaceMatching($@"^BackHistory\.{room}(\.|$)")
                .Should()
                .NotDependOnAnyTypesThat()
                .ResideInNamespaceMatching(@"^(Npgsql|System\.Net|System\.Diagnostics\.Process)(\.|$)")
                .AndShould()
                .NotDependOnAnyTypesThat()
                .HaveFullNameMatching(@"^System\.IO\.(File|FileStream|Directory|FileInfo|DirectoryInfo)$")
                .AndShould()
                .NotDependOnAnyTypesThat()
                .HaveFullNameMatching(@"^System\.TimeProvider$")
        );

    [Theory]
    [InlineData("Shape")]
    [InlineData("Trends")]
    [InlineData("Formats")]
    [InlineData("History")]
    [InlineData("Language")]
    [InlineData("Store")]
    [InlineData("Reports")]
    [InlineData("Application")]
    [InlineData("Service")]
    public void No_two_folders_of_a_room_depend_on_each_other_both_ways(string room)
    {
        var root = $"BackHistory.{room}";
        var arrows = House
            .Types.Where(t => InRoom(t, root))
            .SelectMany(t => t.Dependencies, (t, d) => (Type: t, d.Target))
            .Where(d => InRoom(d.Target, root))
            .ToLookup(d => (From: Folder(d.Type, root), To: Folder(d.Target, root)), d => $"{d.Type.Name} names {d.Target.Name}");
        var between = arrows.Select(a => a.Key).Where(a => a.From != a.To).ToHashSet();
        // Formats has three folders that know nothing of each other.
        Assert.True(between.Count > 0 || room == "Formats", "no arrows were found, so nothing was looked at");
        var bothWays = between
            .Where(a => string.CompareOrdinal(a.From, a.To) < 0 && between.Contains((a.To, a.From)))
            .ToDictionary(a => $"{a.From} <-> {a.To}", a => $"{arrows[a].Distinct().First()}; {arrows[(a.To, a.From)].Distinct().First()}");
        var told = string.Join('\n', bothWays.OrderBy(p => p.Key, StringComparer.Ordinal).Select(p => $"{p.Key}: {p.Value}"));
        Assert.True(bothWays.Count == 0, $"folders that depend on each other both ways:\n{told}");
    }

    private static bool InRoom(IType type, string root) =>
        NamespaceOf(type) is var name && (name == root || name.StartsWith(root + ".", StringComparison.Ordinal));

    /// <summary>The folder within its room; a dot for what lies in none.</summary>
    private static string Folder(IType type, string root) =>
        NamespaceOf(type) is var name && name == root ? "." : name[(root.Length + 1)..];

    /// <summary>What the compiler makes by itself lies in none.</summary>
    private static string NamespaceOf(IType type) => type.Namespace?.FullName ?? "";

    [Fact]
    public void No_decider_is_called_from_the_service()
    {
        var service = Path.Combine(Repository.Root, "src", "BackHistory.Service");
        var sources = Directory
            .EnumerateDirectories(service)
            .Where(folder => Path.GetFileName(folder) is not ("obj" or "bin" or "Scripts" or "wwwroot"))
            .SelectMany(folder => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
            .Concat(Directory.EnumerateFiles(service))
            .Where(f => Path.GetExtension(f) is ".cs" or ".razor")
            .Select(f => Path.GetRelativePath(service, f).Replace('\\', '/'))
            .ToList();
        Assert.Contains("Horses/HorsesApi.cs", sources);
        var deciding = sources.Where(f => Decider().IsMatch(File.ReadAllText(Path.Combine(service, f))));
        Assert.Empty(deciding);
    }

    [GeneratedRegex(@"\b\w*Decider\b")]
    private static partial Regex Decider();

    private static void Holds(IArchRule rule)
    {
        var broken = rule.Evaluate(House).Where(r => !r.Passed).Select(r => r.Description).ToList();
        Assert.True(broken.Count == 0, string.Join('\n', broken));
        Assert.NotEmpty(rule.Evaluate(House));
    }
}
