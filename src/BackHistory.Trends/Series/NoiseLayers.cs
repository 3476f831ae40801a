namespace BackHistory.Trends.Series;

/// <summary>The layers of noise that observations share.</summary>
/// <param name="VisitSd">Standard deviation of the offset shared by all observations of one UTC calendar day (s_visit).</param>
/// <param name="PersonSd">Standard deviation of the offset that each pair of hands brings along (s_person).</param>
public sealed record NoiseLayers(double VisitSd, double PersonSd)
{
    public static NoiseLayers None { get; } = new(0, 0);
}
