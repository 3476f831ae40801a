using BackHistory.History.Sharing;

namespace BackHistory.Application.Sharing;

/// <summary>What somebody outside sees of a horse, and for how long, unless the practice says otherwise.</summary>
public static class ShareDefaults
{
    private const int OwnerDays = 30;
    private const int Days = 14;

    public static SharedScope ScopeOf(SharedWith role) =>
        role switch
        {
            SharedWith.Owner or SharedWith.Rider => SharedScope.Summary,
            SharedWith.AnotherPractice => SharedScope.Record,
            _ => SharedScope.Trends,
        };

    /// <summary>How many days a link holds.</summary>
    public static int DaysOf(SharedWith role) => role == SharedWith.Owner ? OwnerDays : Days;
}
