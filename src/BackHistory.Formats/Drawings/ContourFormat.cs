namespace BackHistory.Formats.Drawings;

public enum ContourFormat
{
    Svg,
    Dxf,
    Csv,
}
