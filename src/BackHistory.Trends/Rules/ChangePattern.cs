namespace BackHistory.Trends.Rules;

/// <summary>
/// One way in which backs change. Measures that move together are judged together: that is how one horse's many measures stay one question.
/// </summary>
/// <param name="Name">Key, as in <c>opens</c>.</param>
/// <param name="Weight">How common it is beside the other patterns; only ratios matter.</param>
/// <param name="Grows">Words for a positive size: "has opened on both sides".</param>
/// <param name="Shrinks">Words for a negative size.</param>
/// <param name="Essential">Not to know of it is not to know the horse: ignorance of this pattern makes the state unknown.</param>
/// <param name="Loadings">Where the horse's contour is not known, and for what is no measure of a contour; 0 = watched, and does not
/// move.</param>
/// <param name="Deformation">What the contour does as the pattern grows: where it is known, the loadings of the measures that the pattern
/// names come from it, and the pattern's size is 1 where the first of them is at its limit.</param>
/// <param name="Stations">For <see cref="PatternScope.Together"/>; null = all.</param>
public sealed record ChangePattern(
    string Name,
    PatternScope Scope,
    double Weight,
    IReadOnlyList<PatternLoading> Loadings,
    string Grows,
    string Shrinks,
    bool Essential = false,
    IReadOnlyList<string>? Stations = null,
    Deformation? Deformation = null
);
