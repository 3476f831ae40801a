namespace BackHistory.Trends.Rules;

/// <summary>Where a figure of noise comes from.</summary>
public enum NoiseSource
{
    /// <summary>The built-in rule of thumb.</summary>
    RuleOfThumb,

    /// <summary>All repeats of the practice.</summary>
    Pool,

    /// <summary>The practice's repeats for this method, station and person, drawn towards the pool.</summary>
    Own,
}
