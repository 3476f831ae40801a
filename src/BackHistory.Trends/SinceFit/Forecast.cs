using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit;

/// <summary>
/// The first UTC dates at which the probability of being past the threshold reaches 0.10, 0.50 and 0.90, if nothing else is measured;
/// null = not within the horizon.
/// </summary>
public sealed record Forecast(DateOnly? From, DateOnly? Reached, DateOnly? To)
{
    public const int HorizonDays = 365;

    /// <param name="asOfDay">Today; the forecast starts from the later of today and the last observation.</param>
    public static Forecast? Predict(TrendFit trend, double baselineDay, double threshold, double asOfDay)
    {
        if (trend.Q is null)
            return null;
        var start = Math.Max(asOfDay, trend.LastDay);
        var ahead = trend.ChangeAhead(baselineDay, start);
        var found = new DateOnly?[3];
        double[] bars = [0.10, 0.50, 0.90];
        for (var next = start; next <= start + HorizonDays && found[2] is null; next = Math.Floor(next) + 1)
        {
            if (Days.DateOf(next) is not { } date)
                break;
            // A baseline still ahead of the date looks back at it: there the joint posterior of the two dates is asked anew.
            var change = next < baselineDay || start < baselineDay ? trend.Change(baselineDay, next)! : ahead(next - start);
            var p = Decision.Passed(change, threshold);
            for (var i = 0; i < bars.Length; i++)
                if (p >= bars[i])
                    found[i] ??= date;
        }
        return new(found[0], found[1], found[2]);
    }
}
