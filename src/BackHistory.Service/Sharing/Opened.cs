namespace BackHistory.Service.Sharing;

/// <summary>Either <see cref="ShareContext"/>, or why there is none.</summary>
/// <param name="Reader">The language of whoever it is shared with, where the practice knows them.</param>
public readonly record struct Opened(ShareContext? ShareContext, Closed? Why, ReportLanguage? Reader = null)
{
    public static implicit operator Opened(ShareContext sight) => new(sight, null, sight.Language);

    public static implicit operator Opened(Closed why) => new(null, why);
}
