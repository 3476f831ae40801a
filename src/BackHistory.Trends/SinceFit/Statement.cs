namespace BackHistory.Trends.SinceFit;

/// <summary>A sentence of the explanation with the key of what it says: <c>owner</c> is the one for a letter, <c>state</c> the one for
/// the page. Made in Language.</summary>
public sealed record Statement(string Kind, string Text);
