namespace BackHistory.Service.Saddles;

/// <summary>A pad with its shims as it is typed into a page.</summary>
public sealed class PadForm : HorseChoiceForm
{
    public string? Pad { get; set; }

    public List<ShimForm> Shims
    {
        get;
        // Where one place of a list was not sent as a page sends it, the framework puts nothing in the place of the whole list.
        set => field = value ?? [];
    } = [];

    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }
}
