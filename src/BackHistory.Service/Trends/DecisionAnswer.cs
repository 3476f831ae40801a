using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Trends;

/// <summary>What is said of a horse on a day, in numbers and in words, and what it rests on.</summary>
/// <param name="RulesVersion">With the horse's events all that the decision follows from, beside the state that held before.</param>
/// <param name="PriorsVersion">The version at which the movements in use were learned from the practice's horses; null: rules of
/// thumb.</param>
/// <param name="NoiseVersion">The version at which the noise in use was learned from the practice's repeats; null: rules of thumb.</param>
/// <param name="Stored">False: made anew for the day and version asked for.</param>
public sealed record DecisionAnswer(
    Guid HorseId,
    DateOnly AsOf,
    WatchState State,
    DateOnly NextCheckDue,
    int RulesVersion,
    int? PriorsVersion,
    int? NoiseVersion,
    bool Stored,
    IReadOnlyList<SaddleAssessment> Saddles
);
