namespace BackHistory.Service.Trends;

/// <summary>The unit of a measure by its key, and whether it belongs to a station.</summary>
internal static class MeasureUnits
{
    public static string Of(string key) =>
        Family(key) switch
        {
            "width"
            or "skew-shape"
            or "ridge-radius"
            or "topline-drop"
            or "panel-radius"
            or "bearing-length"
            or "mark-lateral"
            or "mark-depth"
            or "height-withers"
            or "height-croup" => "mm",
            "slope-left"
            or "slope-right"
            or "opening"
            or "skew-slope"
            or "topline-slope"
            or "read-slope-left"
            or "read-slope-right"
            or "read-topline-slope" => "deg",
            "half-area-left" or "half-area-right" or "fill-left" or "fill-right" => "cm2",
            "half-volume-left" or "half-volume-right" => "l",
            "skew-area" => "%",
            "weight" => "kg",
            _ => "1",
        };

    public static bool AtStation(string key) =>
        Family(key)
            is "width"
                or "width-ratio"
                or "slope-left"
                or "slope-right"
                or "opening"
                or "half-area-left"
                or "half-area-right"
                or "fill-left"
                or "fill-right"
                or "skew-area"
                or "skew-slope"
                or "skew-shape"
                or "ridge-radius"
                or "mark-lateral"
                or "mark-depth"
                or "read-slope-left"
                or "read-slope-right";

    private static string Family(string key) => key.Split('@', 2)[0];
}
