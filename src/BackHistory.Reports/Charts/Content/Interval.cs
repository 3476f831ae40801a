namespace BackHistory.Reports.Charts.Content;

/// <summary>95 % of a normal distribution lies within this many standard deviations.</summary>
static class Interval
{
    public const double Of95 = 1.96;
}
