namespace BackHistory.Application;

/// <summary>Something that people do here, in one place: what it takes, what it needs, what it decides and what follows.</summary>
public interface IAct
{
    /// <summary>The one right that it needs at every door.</summary>
    static abstract Right Needs { get; }
}
