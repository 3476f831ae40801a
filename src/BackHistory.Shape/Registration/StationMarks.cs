namespace BackHistory.Shape.Registration;

/// <summary>Names of marks that measures of a topline refer to.</summary>
public static class StationMarks
{
    public const string Withers = "withers";
    public const string Shoulder = "shoulder";
    public const string BehindShoulder = "behind-shoulder";
    public const string MidBack = "mid-back";
    public const string LastRib = "last-rib";
}
