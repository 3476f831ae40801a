namespace BackHistory.Reports.Charts;

/// <summary>When left and right part company: the likeliest day and its interval.</summary>
public sealed record Parting(DateOnly From, DateOnly On, DateOnly To, string Label);
