using System.Xml.Linq;
using BackHistory.Reports.Charts;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Reads a drawn SVG back.</summary>
sealed class SvgPicture(Chart chart)
{
    public XElement Root { get; } = XElement.Parse(chart.ToSvg());

    public IEnumerable<string> Texts => Named("text").Select(t => t.Value);

    public IEnumerable<XElement> Named(string name) => Root.Descendants().Where(e => e.Name.LocalName == name);

    public IEnumerable<XElement> Stroked(string colour) => Root.Descendants().Where(e => (string?)e.Attribute("stroke") == colour);
}
