namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>One period's hypotheses, each with how much likelier than a steady back it made the visits.</summary>
internal sealed record MovementCase(double Years, IReadOnlyList<MovementCase.Alternative> Alternatives)
{
    internal readonly record struct Alternative(
        string Pattern,
        int Scale,
        double FromYears,
        double ToYears,
        double PatternShare,
        double LikelihoodRatio
    );
}
