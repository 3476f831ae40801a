namespace BackHistory.Reports.Charts.Content;

/// <summary>Sides of the horse in words.</summary>
internal static class SideNames
{
    /// <summary>"left", "right"; nothing for the whole back.</summary>
    public static string In(Side side, ReportLanguage language) =>
        side switch
        {
            Side.Left => language["trend.left"],
            Side.Right => language["trend.right"],
            _ => "",
        };
}
