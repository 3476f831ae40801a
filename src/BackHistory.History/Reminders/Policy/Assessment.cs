using System.Globalization;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Reminders.Policy;

/// <summary>
/// What the practice's rules make of one horse on one day. Not history: it follows from the events, the rules and the day, and is made anew
/// whenever one of them could have changed it.
/// </summary>
public sealed record Assessment
{
    /// <summary>The horse's id.</summary>
    public Guid Id { get; init; }

    /// <summary>Everything up to this position of the store was taken into account.</summary>
    public long BasedOn { get; init; }

    public DateOnly AsOf { get; init; }

    /// <summary>The first day on which the outcome can be another though nothing new happened.</summary>
    public DateOnly? ReassessOn { get; init; }

    /// <summary>A check is due, but somebody is still entering things: it is looked at again from here on.</summary>
    public DateTimeOffset? HoldUntil { get; init; }

    public int RulesVersion { get; init; }

    public int ReminderRulesVersion { get; init; } = 1;

    /// <summary>The state of the saddle that is worst off; <c>unknown</c> without any.</summary>
    public WatchState State { get; init; }

    /// <summary>For sorting: 0 is most urgent.</summary>
    public int Rank { get; init; }

    public DateOnly NextCheckDue { get; init; }

    /// <summary>Sorts a caseload: the rank, then the day the next check is due.</summary>
    public string Urgency => string.Create(CultureInfo.InvariantCulture, $"{Rank} {NextCheckDue:yyyy-MM-dd}");

    public IReadOnlyList<SaddleAssessment> Saddles { get; init; } = [];

    /// <summary>The saddle that decides the state.</summary>
    public SaddleAssessment? Worst => Saddles.MinBy(s => Assessing.RankOf(s.Decision.State));
}
