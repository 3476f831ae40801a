namespace BackHistory.Service.Saddles;

/// <summary>Where a saddle goes or what becomes of it, as it is typed into a page; each page asks for what it needs.</summary>
public sealed class UseForm : HorseChoiceForm
{
    /// <summary>The horse that it leaves.</summary>
    public string? From { get; set; }

    /// <summary>Who has it from now on; empty for nobody who is known.</summary>
    public string? Person { get; set; }

    /// <summary>The day; none means today.</summary>
    public string? Day { get; set; }

    /// <summary>The day on which it is due back.</summary>
    public string? Until { get; set; }

    /// <summary><c>kept</c> or <c>back</c>.</summary>
    public string? Ends { get; set; }

    /// <summary>Two horses have it at once.</summary>
    public bool OnBoth { get; set; }

    public string? Reason { get; set; }
}
