using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders;

/// <summary>What a reminder rests on.</summary>
/// <param name="AsOf">The day of the decision.</param>
/// <param name="Measure">The measure that drives it, for example <c>slope-left</c>; null for a calendar rule.</param>
/// <param name="Change">Since the baseline, in <paramref name="Unit"/>.</param>
/// <param name="P">Probability that a threshold is passed, all measures taken together.</param>
/// <param name="Due">The day the check was due, for a calendar rule.</param>
/// <param name="Sentence">The finding in plain English, as it was said.</param>
/// <param name="Finding">The same as data, so that it can be said in any language; null in reminders of old and for calendar rules.</param>
/// <param name="Numbers">The measures that moved most, the driving one first.</param>
/// <param name="Because">Why the calendar asks for a visit.</param>
/// <param name="LastVisit">The last visit known on that day; null without any.</param>
/// <param name="Watched">How many measures were judged together.</param>
/// <param name="Leans">The visit whose tracings all lean the same way, for which alone they are to be taken again.</param>
public sealed record Evidence(
    DateOnly AsOf,
    int RulesVersion,
    string? Measure,
    string? Station,
    string? Unit,
    double? Change,
    double? Sd,
    double? Threshold,
    double? P,
    DateOnly? Baseline,
    DateOnly? Due,
    string Sentence,
    Finding? Finding = null,
    IReadOnlyList<EvidenceNumber>? Numbers = null,
    CheckReason? Because = null,
    DateOnly? LastVisit = null,
    int? Watched = null,
    LeaningTracings? Leans = null
)
{
    /// <summary>What rests on the calendar or on the visits as such, and on no measure.</summary>
    /// <param name="baseline">The day of the work on the saddle that it is about, if of any.</param>
    public static Evidence WithoutMeasure(
        DateOnly asOf,
        int rulesVersion,
        DateOnly? due,
        string sentence,
        DateOnly? baseline = null,
        CheckReason? because = null,
        DateOnly? lastVisit = null,
        LeaningTracings? leans = null
    ) =>
        new(
            asOf,
            rulesVersion,
            null,
            null,
            null,
            null,
            null,
            null,
            null,
            baseline,
            due,
            sentence,
            null,
            null,
            because,
            lastVisit,
            null,
            leans
        );
}
