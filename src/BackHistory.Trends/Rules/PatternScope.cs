namespace BackHistory.Trends.Rules;

/// <summary>Over how much of the horse a pattern is looked for.</summary>
public enum PatternScope
{
    /// <summary>At each station by itself.</summary>
    EachStation,

    /// <summary>At the stations named, together; at all of them when none is named.</summary>
    Together,
}
