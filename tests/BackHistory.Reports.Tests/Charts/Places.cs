using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace BackHistory.Reports.Tests.Charts;

static partial class Places
{
    /// <summary>Where a text starts, with its transform (a shift, or none); a turned text is judged by its foot.</summary>
    public static (double X, double Y) Of(XElement text)
    {
        double Number(string? value) => double.Parse(value ?? "0", CultureInfo.InvariantCulture);
        var (x, y) = (Number((string?)text.Attribute("x")), Number((string?)text.Attribute("y")));
        var shift = Shift().Match((string?)text.Attribute("transform") ?? "");
        return shift.Success ? (x + Number(shift.Groups[1].Value), y + Number(shift.Groups[2].Value)) : (x, y);
    }

    [GeneratedRegex(@"translate\((-?[\d.]+)[ ,]+(-?[\d.]+)\)")]
    private static partial Regex Shift();
}
