using BackHistory.History;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Service.Web;

/// <summary>Charts as responses.</summary>
internal static class Pictures
{
    public static readonly Refused NothingToDraw = new("nothing-to-draw", "Nothing was traced there.", RefusalKind.NotFound);

    public static readonly Refused NoPicture = new(
        "no-picture",
        "The practice has no picture of its own: give one on the page “Contact”.",
        RefusalKind.NotFound
    );

    public static readonly Refused NoSuchForm = new("no-such-form", "It does not come in this form.", RefusalKind.NotFound);

    public static IResult Answer(Chart chart, string form) =>
        form switch
        {
            "svg" => Results.Text(chart.ToSvg(), "image/svg+xml"),
            "png" => Results.Bytes(chart.ToPng(), "image/png"),
            _ => Problems.From(NoSuchForm),
        };

    public static ChartTheme Theme(string? theme) => theme == "dark" ? ChartTheme.Dark : ChartTheme.Light;

    public static ChartSize Size(int? width, int? height) =>
        new(Math.Clamp(width ?? ChartSize.Page.Width, 200, 2000), Math.Clamp(height ?? ChartSize.Page.Height, 160, 2000));
}
