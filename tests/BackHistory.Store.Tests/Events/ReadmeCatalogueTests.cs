using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using BackHistory.History;
using BackHistory.Store.Events;

namespace BackHistory.Store.Tests.Events;

/// <summary>The README lists what is recorded; this keeps the list true.</summary>
public sealed class ReadmeCatalogueTests
{
    private static readonly XDocument Words = XDocument.Load(Path.ChangeExtension(typeof(IHappened).Assembly.Location, ".xml"));

    [Fact]
    public void The_readme_lists_every_event_with_the_words_of_its_own_docstring()
    {
        var readme = TestData.Repository("README.md");
        var match = Regex.Match(readme, "<!-- catalogue -->\n(?<table>.*?)<!-- /catalogue -->", RegexOptions.Singleline);
        Assert.True(match.Success, "README.md has no table between <!-- catalogue --> and <!-- /catalogue -->");
        Assert.True(match.Groups["table"].Value == Table(), $"The table in README.md is not what is recorded. It should be:\n{Table()}");
    }

    private static string Table()
    {
        var table = new StringBuilder("| of | event | what it says |\n| --- | --- | --- |\n");
        foreach (var (type, alias) in EventAliases.All)
        {
            var stream = type.Namespace!.Split('.')[^1] switch
            {
                "Horses" => "a horse",
                "Saddles" => "a saddle",
                "Practices" => "the practice",
                "Reminders" => "a reminder",
                "Digests" => "a digest",
                "Sharing" => "sight of a horse",
                var other => other,
            };
            table.Append(System.Globalization.CultureInfo.InvariantCulture, $"| {stream} | `{alias}` | {Summary(type)} |\n");
        }

        return table.ToString();
    }

    private static string Summary(Type type)
    {
        var summary = Words
            .Descendants("member")
            .SingleOrDefault(m => (string?)m.Attribute("name") == $"T:{type.FullName}")
            ?.Element("summary");
        Assert.True(summary is not null, $"{type.Name} does not say what it records: it has no <summary>");
        var text = string.Concat(
            summary
                .Nodes()
                .Select(n =>
                    n switch
                    {
                        XText t => t.Value,
                        XElement e => e.Value is { Length: > 0 } v
                            ? v
                            : ((string?)e.Attribute("name") ?? (string?)e.Attribute("cref") ?? "").Split('.')[^1],
                        _ => "",
                    }
                )
        );
        return Regex.Replace(text, @"\s+", " ").Trim();
    }
}
