namespace BackHistory.Service.Saddles;

/// <summary>A piece of work on a saddle as it is typed into a page.</summary>
public sealed class SaddleWorkForm : HorseChoiceForm
{
    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }

    /// <summary>Who did it.</summary>
    public string? By { get; set; }

    /// <summary>The visit whose shape it was made to; empty for by eye.</summary>
    public string? Visit { get; set; }

    /// <summary>It stays in use on the other horse.</summary>
    public bool OnBoth { get; set; }

    public bool Fresh { get; set; }

    public string? Left { get; set; }

    public string? Right { get; set; }

    public string? ProposedLeft { get; set; }

    public string? ProposedRight { get; set; }

    public string? WhyLeft { get; set; }

    public string? WhyRight { get; set; }

    /// <summary>What was done to the panel.</summary>
    public string? Panel { get; set; }

    /// <summary>What was done to each of the parts that the saddle lists, in their order.</summary>
    public List<string?> Parts
    {
        get;
        set => field = Sent(value);
    } = [];

    public string? Material { get; set; }

    /// <summary><c>whole</c> or <c>places</c>.</summary>
    public string? Extent { get; set; }

    /// <summary>Where flocking was added.</summary>
    public List<FlockedPlaceForm> Places
    {
        get;
        set => field = Sent(value);
    } = [];

    public string? Note { get; set; }

    /// <summary>Why what stood is put right.</summary>
    public string? Reason { get; set; }
}
