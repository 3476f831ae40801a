using System.Globalization;
using System.Text.RegularExpressions;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>Whether what was typed is what a page shows.</summary>
internal static partial class Shown
{
    /// <summary>In the same field, or in the page's words.</summary>
    /// <param name="now">What stands in the form now.</param>
    public static bool Is(FieldRead typed, List<FieldRead> now, string words)
    {
        if (typed.Value.Length == 0)
            return true;
        if (now.FirstOrDefault(f => f.Name == typed.Name) is { } same && Same(same.Value, typed.Value))
            return true;
        if (typed.Type is "checkbox")
            return now.All(f => f.Name != typed.Name);
        if (typed.Type is "radio")
            return now.All(f => f.Name != typed.Name);
        foreach (var said in Said(typed))
        {
            if (words.Contains(said, StringComparison.OrdinalIgnoreCase))
                return true;
        }

        return false;
    }

    public static bool Same(string a, string b) =>
        a.Trim().ReplaceLineEndings("\n") == b.Trim().ReplaceLineEndings("\n")
        || (Number(a) is { } x && Number(b) is { } y && Math.Abs(x - y) < 1e-9);

    private static double? Number(string text) =>
        double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value : null;

    private static IEnumerable<string> Said(FieldRead typed)
    {
        if (typed.Says.Length > 0)
        {
            yield return typed.Says;
            yield return typed.Says.Split(',')[0].Trim();
        }
        else if (Uri.TryCreate(typed.Value, UriKind.Absolute, out var address))
            yield return address.Host;
        else
            yield return Spaces().Replace(typed.Value.Trim(), " ");
        if (
            DateTime.TryParseExact(
                typed.Value,
                ["yyyy-MM-dd", "yyyy-MM-ddTHH:mm"],
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out var day
            )
        )
        {
            foreach (var form in new[] { "d MMMM", "d MMM" })
                yield return day.ToString(form, CultureInfo.InvariantCulture);
        }
    }

    [GeneratedRegex(@"\s+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Spaces();
}
