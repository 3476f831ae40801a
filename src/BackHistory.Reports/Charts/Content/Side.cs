namespace BackHistory.Reports.Charts.Content;

/// <summary>Which side of the horse a series belongs to; left is the horse's left.</summary>
public enum Side
{
    Whole,
    Left,
    Right,
}
