namespace BackHistory.Reports.Letters.Content;

/// <summary>One horse of a list.</summary>
/// <param name="Title">The horse.</param>
/// <param name="Detail">Why, in a sentence.</param>
/// <param name="When">Due or booked; stands beside the title.</param>
/// <param name="Trail">Who was told and what they said.</param>
public sealed record LetterItem(string Title, string Detail, string When = "", string Trail = "")
{
    public string? Url { get; init; }
}
