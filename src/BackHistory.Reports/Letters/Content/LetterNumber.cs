namespace BackHistory.Reports.Letters.Content;

/// <summary>A number in words: <c>"Slope of the left shoulder", "47.2° ± 1.9", "42.1° ± 1.4", "we act from a change of 4°"</c>.</summary>
/// <param name="Before">What it was when the saddle was set; empty when there is nothing to compare with.</param>
/// <param name="Limit">The change that matters, as its own words; stands under the label.</param>
public sealed record LetterNumber(string Label, string Now, string Before = "", string Limit = "");
