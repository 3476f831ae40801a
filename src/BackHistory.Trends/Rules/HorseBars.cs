namespace BackHistory.Trends.Rules;

/// <summary>
/// A state of the horse begins at one probability and ends at a lower one, so that it does not flicker about the bar. The bar of refit is
/// high because p is honest: a judge who knows everything would still send somebody to a steady horse every twentieth year at one half.
/// Below it stands "changing", which asks for another look.
/// </summary>
/// <param name="Refit">p from which the state is refit.</param>
/// <param name="RefitEnds">p under which a horse that was in refit leaves it without saddle work.</param>
/// <param name="Watch">p from which the state is watch.</param>
/// <param name="WatchEnds">p under which a horse that was in watch leaves it.</param>
public sealed record HorseBars(double Refit = 0.80, double RefitEnds = 0.50, double Watch = 0.20, double WatchEnds = 0.10);
