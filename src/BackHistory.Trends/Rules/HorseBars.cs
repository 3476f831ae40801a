using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Rules;

/// <summary>
/// A state of the horse begins at one probability and ends at a lower one, so that it does not flicker about the bar. The bar of refit is
/// lower than that of a single measure (<see cref="DecisionBars"/>): this p has paid for the number of measures already, and a missed
/// change hurts a horse where a false alarm costs a visit.
/// </summary>
/// <param name="Refit">p from which the state is refit: more likely than not.</param>
/// <param name="RefitEnds">p under which a horse that was in refit leaves it without saddle work.</param>
/// <param name="Watch">p from which the state is watch.</param>
/// <param name="WatchEnds">p under which a horse that was in watch leaves it.</param>
public sealed record HorseBars(double Refit = 0.50, double RefitEnds = 0.35, double Watch = 0.20, double WatchEnds = 0.10);
