namespace BackHistory.Service.Trends;

/// <summary>What each measure is, in a sentence for whoever asks how a number came about. The exact definitions stand with the code that
/// computes them, in Shape.</summary>
internal static class MeasureDefinitions
{
    public static string Of(string key, string depth) =>
        key.Split('@', 2)[0] switch
        {
            "width" => $"The distance between the left and the right side {depth} below the midline point.",
            "width-ratio" => "The width near the ridge over the width low down.",
            "slope-left" or "slope-right" =>
                "The inclination of the straight line that lies best through the side between 40 and 140 mm along the curve from the "
                    + "midline point: what an inclinometer laid there reads.",
            "opening" => "180° less the slopes of both sides.",
            "half-area-left" or "half-area-right" =>
                $"The area between the midline, the curve and the level {depth} below the midline point, on one side.",
            "fill-left" or "fill-right" =>
                "The area between the curve and the straight line from the midline point to the place 150 mm along the curve; below "
                    + "zero the side is hollow.",
            "skew-area" => "The difference of the half areas, right less left, in per cent of their mean.",
            "skew-slope" => "The slope of the right side less that of the left.",
            "skew-shape" => "How far the left side, mirrored, lies from the right over 150 mm of the curve (root mean square).",
            "ridge-radius" => "The radius of the circle that lies best on the curve within 40 mm of the midline point on both sides.",
            "topline-drop" => "The greatest depth of the topline below the straight line from the withers to the last rib.",
            "topline-drop-place" => "Where the topline lies deepest: 0 at the withers, 1 at the last rib.",
            "topline-slope" =>
                "The inclination of the straight line between the two stations on the topline; above zero it rises towards the tail.",
            "panel-radius" =>
                "The radius of the circle that lies best on the topline between the station behind the shoulder and the last rib.",
            "bearing-length" => "The length of the topline from the station behind the shoulder to the last rib.",
            "half-volume-left" or "half-volume-right" =>
                "The volume of one side of the back, built from the cross-sections, from the shoulder to the last rib.",
            "read-slope-left" or "read-slope-right" or "read-topline-slope" => "An angle as it was read by hand.",
            "weight" => "The scale's reading, or an estimate from girth and length by tape (Carroll & Huntington 1988).",
            "condition" => "Body condition from 1 to 9 (Henneke et al. 1983), as it was scored.",
            "muscle" => "Muscle from 1 (no loss) to 4 (Herbst et al. 2022), as it was scored.",
            _ => "",
        };
}
