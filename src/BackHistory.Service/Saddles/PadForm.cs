namespace BackHistory.Service.Saddles;

/// <summary>A pad with its shims as it is typed into a page.</summary>
public sealed class PadForm : HorseChoiceForm
{
    public string? Pad { get; set; }

    public List<ShimForm> Shims
    {
        get;
        set => field = Sent(value);
    } = [];

    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }
}
