namespace BackHistory.History.Horses;

/// <summary>The muscle scales that are built in.</summary>
public static class MuscleScales
{
    /// <summary>1 (no atrophy) to 4, at neck, back and hind (Herbst et al. 2022).</summary>
    public const string BuiltIn = "atrophy-1-4";
}
