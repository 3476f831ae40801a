namespace BackHistory.Shape.Surfaces;

/// <summary>Where a back changed most, and by how much.</summary>
/// <param name="Change">mm along the normal of the earlier surface; positive = more horse</param>
/// <param name="DepthBelowMidline">mm below the midline of the same section</param>
/// <param name="Words">`right side, 60 mm below the midline, between `behind-shoulder` and `mid-back``</param>
public sealed record ChangePlace(double Change, Point3 At, Side? Side, double DepthBelowMidline, string Words)
{
    /// <summary>The end of <see cref="Words"/>: where along the back.</summary>
    public required string Along { get; init; }

    /// <summary><see cref="Words"/> with its length in another unit.</summary>
    /// <param name="length">Says a length that is given in millimetres.</param>
    public string InWords(Func<double, string> length) => PlaceInWords.Words(Side, DepthBelowMidline, Along, length);
}
