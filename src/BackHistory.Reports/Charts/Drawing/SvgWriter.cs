using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using BackHistory.Reports.Charts.Content;
using SkiaSharp;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>
/// Draws to SVG and tidies the result: clip ids that depend only on the picture, numbers with two decimals, dashes as dashes, text as one
/// run, a title and a description.
/// </summary>
internal static partial class SvgWriter
{
    static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static string Write(int width, int height, ChartTheme theme, string title, string description, Action<ChartCanvas> draw)
    {
        using var stream = new MemoryStream();
        IReadOnlyList<Spot> spots;
        using (var canvas = SKSvgCanvas.Create(new SKRect(0, 0, width, height), stream))
        {
            var ink = new ChartCanvas(canvas, theme, width, height, vector: true);
            draw(ink);
            spots = ink.Spots;
        }
        var root = XElement.Parse(Encoding.UTF8.GetString(stream.ToArray()));
        foreach (var element in root.DescendantsAndSelf())
        {
            foreach (var attribute in element.Attributes().Where(a => !a.IsNamespaceDeclaration && a.Name != "font-family"))
                attribute.Value = Decimals().Replace(attribute.Value, Round);
            WriteDash(element);
        }
        root.Descendants(Svg + "path").Where(p => string.IsNullOrEmpty((string?)p.Attribute("d"))).Remove();
        SvgText.Tidy(root, Svg);
        ShareClips(root, Prefix(title + description));
        root.SetAttributeValue("viewBox", string.Create(CultureInfo.InvariantCulture, $"0 0 {width} {height}"));
        root.SetAttributeValue("role", "img");
        root.SetAttributeValue(XNamespace.Xmlns + "xlink", null);
        root.AddFirst(new XElement(Svg + "title", title), new XElement(Svg + "desc", description));
        if (spots.Count > 0)
            root.Add(
                new XElement(Svg + "g", new XAttribute("class", "visits"), new XAttribute("fill", "transparent"), spots.Select(WriteSpot))
            );
        return root.ToString(SaveOptions.DisableFormatting);
    }

    /// <summary>An unseen disc around a visit: its title shows on pointing, and its data is there for the page's script.</summary>
    static XElement WriteSpot(Spot spot)
    {
        string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
        return new XElement(
            Svg + "circle",
            new XAttribute("cx", Number(spot.X, "0.##")),
            new XAttribute("cy", Number(spot.Y, "0.##")),
            new XAttribute("r", "12"),
            new XAttribute("data-on", spot.On.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
            new XAttribute("data-side", spot.Side.ToString().ToLowerInvariant()),
            new XAttribute("data-value", Number(spot.Value, "R")),
            new XAttribute("data-sd", Number(spot.Sd, "R")),
            new XElement(Svg + "title", spot.Words)
        );
    }

    static void WriteDash(XElement element)
    {
        if (element.Attribute("stroke-miterlimit") is not { } limit)
            return;
        if (Dash.All.FirstOrDefault(d => d.Code.ToString(CultureInfo.InvariantCulture) == limit.Value) is { } dash)
            element.SetAttributeValue(
                "stroke-dasharray",
                string.Join(' ', dash.Lengths.Select(l => l.ToString(CultureInfo.InvariantCulture)))
            );
        limit.Remove();
    }

    /// <summary>
    /// One clip for all that is cut alike, and one group for neighbours with the same clip. Two charts on a page must not share an id, or
    /// one would clip the other: a hash of the words keeps them apart.
    /// </summary>
    static void ShareClips(XElement root, string prefix)
    {
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        var ids = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var clip in root.Descendants(Svg + "clipPath").ToList())
        {
            var shape = string.Concat(clip.Elements().Select(e => e.ToString(SaveOptions.DisableFormatting)));
            var old = (string)clip.Attribute("id")!;
            if (names.TryGetValue(shape, out var known))
            {
                ids[old] = known;
                clip.Remove();
                continue;
            }
            ids[old] = names[shape] = $"{prefix}{names.Count.ToString(CultureInfo.InvariantCulture)}";
            clip.SetAttributeValue("id", ids[old]);
        }
        foreach (var use in root.Descendants().Attributes("clip-path"))
            use.Value = $"url(#{ids[use.Value[5..^1]]})";
        foreach (var group in root.Descendants(Svg + "g").ToList())
        {
            if (group.PreviousNode is XElement before && before.Name == group.Name && SameAttributes(before, group))
            {
                before.Add(group.Elements());
                group.Remove();
            }
        }
    }

    static bool SameAttributes(XElement one, XElement other) =>
        one.Attributes().Select(a => (a.Name, a.Value)).SequenceEqual(other.Attributes().Select(a => (a.Name, a.Value)));

    static string Round(Match number) =>
        decimal.Parse(number.Value, CultureInfo.InvariantCulture).ToString("0.##", CultureInfo.InvariantCulture);

    static string Prefix(string text) =>
        "c" + Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(Encoding.UTF8.GetBytes(text)).AsSpan(0, 3)) + "-";

    [GeneratedRegex(@"-?\d+\.\d+", RegexOptions.None, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex Decimals();
}
