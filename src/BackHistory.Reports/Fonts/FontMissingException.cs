namespace BackHistory.Reports.Fonts;

/// <summary>The font of the charts and sheets is not installed; the message names the package that brings it.</summary>
public sealed class FontMissingException(string message) : Exception(message);
