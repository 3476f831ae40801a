namespace BackHistory.Reports.Charts.Content;

/// <summary>Sides of the horse in words.</summary>
internal static class SideNames
{
    /// <summary>"left", "right"; nothing for the whole back.</summary>
    public static string In(SeriesSide side, ReportLanguage language) =>
        side switch
        {
            SeriesSide.Left => language["trend.left"],
            SeriesSide.Right => language["trend.right"],
            _ => "",
        };
}
