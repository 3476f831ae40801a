using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What a <see cref="BackPicture"/> shows.</summary>
/// <param name="Now">The latest section.</param>
/// <param name="Then">The section that the saddle was set to, if there is one.</param>
public sealed record BackPictureInput(SectionCurve Now, SectionCurve? Then)
{
    public ReportLanguage Language { get; init; }
}
