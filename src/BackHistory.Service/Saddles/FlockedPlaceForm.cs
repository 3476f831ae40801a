namespace BackHistory.Service.Saddles;

/// <summary>A place of the panels, and whether flocking was added there.</summary>
public sealed class FlockedPlaceForm
{
    /// <summary>As <c>front left</c>.</summary>
    public string? Name { get; set; }

    public bool Added { get; set; }
}
