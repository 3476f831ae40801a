namespace BackHistory.Browser.Tests.Crawl;

/// <param name="Email">Of whoever signs in; null for an outsider.</param>
/// <param name="Today">The service's day, as a field for a day takes it.</param>
/// <param name="Horse">The name of one, to be typed.</param>
/// <param name="Whole">Every kind of address of a page, not only every page.</param>
/// <param name="Presses">Which forms are pressed here.</param>
internal sealed record WalkPlan(
    Uri Address,
    string? Email,
    string Password,
    string Today,
    string Horse,
    bool Whole,
    Func<string, bool> Presses
)
{
    /// <summary>Whether links are followed; otherwise only what is named is looked at.</summary>
    public bool Follows { get; init; } = true;

    /// <summary>How many addresses are asked for at most that lead where another one led.</summary>
    public const int MostLinks = 400;
}
