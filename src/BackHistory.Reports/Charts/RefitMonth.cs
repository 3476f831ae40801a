namespace BackHistory.Reports.Charts;

/// <summary>Refits of one calendar month: those done, or those expected with an interval.</summary>
/// <param name="Month">Its first day.</param>
/// <param name="Low">Lower end of the 80 % interval; equal to <paramref name="Refits"/> for a month that is over.</param>
public sealed record RefitMonth(DateOnly Month, double Refits, double Low, double High, bool IsForecast);
