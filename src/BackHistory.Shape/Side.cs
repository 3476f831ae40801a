namespace BackHistory.Shape;

/// <summary>The horse's own left (x &lt; 0 seen from behind) and right.</summary>
public enum Side
{
    Left,
    Right,
}
