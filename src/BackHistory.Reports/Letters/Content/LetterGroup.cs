namespace BackHistory.Reports.Letters.Content;

/// <param name="Title">E.g. "Needs setting again", or a stop: "9:30 Lower Barn".</param>
public sealed record LetterGroup(string Title, IReadOnlyList<LetterItem> Items)
{
    /// <summary>Under the title: an address, or what the list means.</summary>
    public string Note { get; init; } = "";
}
