using System.Globalization;
using System.Xml.Linq;
using BackHistory.Reports.Fonts;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>
/// The canvas writes a place for every glyph. Here a text has one start and its length, so that a page without the font squeezes the text
/// instead of spilling it, and a reader can search and copy it.
/// </summary>
internal static class SvgText
{
    public static void Tidy(XElement root, XNamespace svg)
    {
        foreach (var text in root.Descendants(svg + "text").ToList())
            Tidy(text);
        foreach (var text in root.Descendants(svg + "text").ToList())
            MergeHalo(text);
    }

    static void Tidy(XElement text)
    {
        var content = text.Value.Trim();
        var size = float.Parse((string)text.Attribute("font-size")!, CultureInfo.InvariantCulture);
        var weight = WeightOf((string?)text.Attribute("font-weight"));
        foreach (var place in text.Attributes().Where(a => a.Name == "x" || a.Name == "y"))
            place.Value = place.Value.Split(',')[0].Trim();
        if (content.Length > 1)
        {
            text.SetAttributeValue("textLength", Lettering.Width(content, size, weight).ToString("0.##", CultureInfo.InvariantCulture));
            text.SetAttributeValue("lengthAdjust", "spacingAndGlyphs");
        }
        text.SetAttributeValue("font-family", $"'{ReportFonts.Family}',system-ui,sans-serif");
        if (weight != Weight.Regular)
            text.SetAttributeValue("font-weight", weight == Weight.Semibold ? "600" : "700");
        text.Value = content;
    }

    // The semibold face calls itself 500 or 600, by version.
    static Weight WeightOf(string? written) =>
        written switch
        {
            null or "400" or "normal" => Weight.Regular,
            "500" or "600" => Weight.Semibold,
            _ => Weight.Bold,
        };

    /// <summary>A halo is the same text stroked before it is filled: one element does both.</summary>
    static void MergeHalo(XElement text)
    {
        if (
            text.Attribute("stroke") is null
            || text.NextNode is not XElement filled
            || filled.Name != text.Name
            || filled.Value != text.Value
        )
            return;
        foreach (var attribute in text.Attributes().Where(a => a.Name.LocalName.StartsWith("stroke", StringComparison.Ordinal)))
            filled.SetAttributeValue(attribute.Name, attribute.Value);
        filled.SetAttributeValue("paint-order", "stroke");
        text.Remove();
    }
}
