using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit.Joint;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit;

/// <summary>Everything a page, a letter or a chart needs to show what was decided on one horse and why.</summary>
/// <param name="P">The probability that at least one watched measure has passed its threshold, all taken together; null without any visit
/// or without a baseline.</param>
/// <param name="Driver">The measure that drives the state; null when there is none to name.</param>
/// <param name="Patterns">What may have happened, likeliest first.</param>
/// <param name="PByMonth">The same probability now and after 1, 2, … 12 months (of 365.25/12 days) if nothing else is measured; empty
/// without any visit.</param>
/// <param name="Statements">In words, where somebody has put them in; a decision is made without.</param>
/// <param name="ReassessOn">The first day on which the state can be another although nothing new was measured; null = not within the
/// horizon.</param>
public sealed record HorseDecision(
    WatchState State,
    double? P,
    DateOnly BaselineOn,
    DateOnly AsOf,
    IReadOnlyList<MeasureDecision> Measures,
    MeasureDecision? Driver,
    IReadOnlyList<PatternEvidence> Patterns,
    Forecast? Forecast,
    IReadOnlyList<double> PByMonth,
    NextCheck NextCheck,
    DateOnly? ReassessOn,
    VetCaution? Caution,
    IReadOnlyList<Statement> Statements,
    int RulesVersion
)
{
    /// <summary>
    /// <see cref="P"/> with every pattern in its likelier direction only: what refit goes by, so that not knowing where a back has gone
    /// is never told as a change.
    /// </summary>
    public double? POneWay { get; init; }

    /// <summary>
    /// The visit whose tracings lean alike and without which there would be no refit, or no caution: it waits to be traced again, and what
    /// it says of left and right is in none of the numbers here. Null when nothing waits.
    /// </summary>
    public VisitLean? Leaning { get; init; }

    /// <summary>
    /// Earlier visits whose tracings leaned alike and that no other visit bore out: what they say of left and right is in none of the
    /// numbers here.
    /// </summary>
    public IReadOnlyList<VisitLean> LeftOut { get; init; } = [];
}
