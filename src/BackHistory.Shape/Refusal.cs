namespace BackHistory.Shape;

/// <summary>
/// Why a tracing cannot be measured: a stable code and a sentence for a person. Codes are checked in the order listed here.
/// </summary>
public sealed record Refusal(string Code, string Message)
{
    public const string Unreadable = "unreadable";
    public const string UnknownUnit = "unknown-unit";
    public const string NotFinite = "not-finite";
    public const string ImplausibleSize = "implausible-size";
    public const string OffMidline = "off-midline";
    public const string TooFewPoints = "too-few-points";
    public const string SelfCrossing = "self-crossing";
    public const string NoStationMark = "no-station-mark";

    // Of imports only.
    public const string TooLarge = "too-large";
    public const string NoLine = "no-line";
}
