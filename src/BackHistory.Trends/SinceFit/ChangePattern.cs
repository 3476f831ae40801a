namespace BackHistory.Trends.SinceFit;

/// <summary>Over how much of the horse a pattern is looked for.</summary>
public enum PatternScope
{
    /// <summary>At each station by itself.</summary>
    EachStation,

    /// <summary>At the stations named, together; at all of them when none is named.</summary>
    Together,
}

/// <summary>How a measure moves when the pattern happens.</summary>
/// <param name="Measure">Key of the measure, or the part before <c>@</c> for all of that family.</param>
/// <param name="Loading">Its change in thresholds when the pattern's size is 1; the sign tells the direction.</param>
public sealed record PatternLoading(string Measure, double Loading);

/// <summary>
/// One way in which backs change. Measures that move together are judged together: that is how one horse's many measures stay one question.
/// </summary>
/// <param name="Name">Key, as in <c>opens</c>.</param>
/// <param name="Weight">How common it is beside the other patterns; only ratios matter.</param>
/// <param name="Grows">Words for a positive size: "has opened on both sides".</param>
/// <param name="Shrinks">Words for a negative size.</param>
/// <param name="Essential">Not to know of it is not to know the horse: ignorance of this pattern makes the state unknown.</param>
/// <param name="Stations">For <see cref="PatternScope.Together"/>; null = all.</param>
public sealed record ChangePattern(
    string Name,
    PatternScope Scope,
    double Weight,
    IReadOnlyList<PatternLoading> Loadings,
    string Grows,
    string Shrinks,
    bool Essential = false,
    IReadOnlyList<string>? Stations = null
);
