namespace BackHistory.Service.Trends;

/// <summary>Measures and stations in German, for letters and their charts.</summary>
internal static class GermanMeasures
{
    /// <param name="at">The depth with its unit, or the place.</param>
    public static string Of(string name, string at) =>
        name switch
        {
            "width" => $"Breite {at} tief",
            "width-ratio" => "Breitenverhältnis, 30 zu 150 mm tief",
            "slope" => "Neigung der Seiten",
            "slope-left" => "Neigung, linke Seite",
            "slope-right" => "Neigung, rechte Seite",
            "opening" => "Öffnungswinkel",
            "half-area" => at.Length > 0 ? $"Fläche der Hälften bis {at}" : "Fläche der Hälften",
            "half-area-left" => at.Length > 0 ? $"Fläche der linken Hälfte bis {at}" : "Fläche der linken Hälfte",
            "half-area-right" => at.Length > 0 ? $"Fläche der rechten Hälfte bis {at}" : "Fläche der rechten Hälfte",
            "fill" => "Fülle der Seiten",
            "fill-left" => "Fülle, linke Seite",
            "fill-right" => "Fülle, rechte Seite",
            "skew-area" => $"Rechts gegen links, Fläche bis {at}",
            "skew-slope" => "Rechts minus links, Neigung",
            "skew-shape" => "Unterschied der Seiten",
            "ridge-radius" => "Rundung des Kamms",
            "topline-drop" => "Senkung der Oberlinie",
            "topline-drop-place" => "Ort der Senkung",
            "topline-slope" => $"Neigung der Oberlinie, {at}",
            "panel-radius" => "Rundung in der Sattellage",
            "bearing-length" => "Länge der Sattellage",
            "half-volume" => "Volumen der Hälften",
            "half-volume-left" => "Volumen der linken Hälfte",
            "half-volume-right" => "Volumen der rechten Hälfte",
            "read-slope" => "Abgelesene Neigung",
            "read-slope-left" => "Abgelesene Neigung, linke Seite",
            "read-slope-right" => "Abgelesene Neigung, rechte Seite",
            "read-topline-slope" => "Abgelesene Neigung der Oberlinie",
            "weight" => "Gewicht",
            "condition" => "Futterzustand",
            "muscle" => $"Bemuskelung, {at}",
            _ => at.Length > 0 ? $"{name}@{at}" : name,
        };

    public static string Station(string? station) =>
        station switch
        {
            null => "",
            "shoulder" => "Schulter",
            "behind-shoulder" => "hinter der Schulter",
            "mid-back" => "Rückenmitte",
            "last-rib" => "letzte Rippe",
            _ => station,
        };
}
