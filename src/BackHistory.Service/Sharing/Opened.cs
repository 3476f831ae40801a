namespace BackHistory.Service.Sharing;

/// <summary>Either <see cref="ShareContext"/>, or why there is none.</summary>
public readonly record struct Opened(ShareContext? ShareContext, Closed? Why)
{
    public static implicit operator Opened(ShareContext sight) => new(sight, null);

    public static implicit operator Opened(Closed why) => new(null, why);
}
