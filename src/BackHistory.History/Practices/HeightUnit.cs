namespace BackHistory.History.Practices;

/// <summary>In what a horse's height is said.</summary>
public enum HeightUnit
{
    Centimetres,

    /// <summary>Of four inches; 15.2 are fifteen hands and two inches (common practice, no source).</summary>
    Hands,
}
