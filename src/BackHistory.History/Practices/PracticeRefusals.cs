namespace BackHistory.History.Practices;

/// <summary>Why something about a practice is refused, where more than its decider says so.</summary>
public static class PracticeRefusals
{
    public static readonly Refused NoSuchPractice = new("no-such-practice", "There is no such practice.", RefusalKind.NotFound);
}
