namespace BackHistory.Shape.Quality;

/// <summary>Compares what was read by hand with what the tracing says.</summary>
public static class ReadingCheck
{
    /// <summary>Null when they agree within twice their joint standard deviation.</summary>
    /// <param name="measure">from the tracing; its <see cref="Measure.Sd"/> counts</param>
    /// <param name="reading">in the unit of the measure</param>
    /// <param name="readingSd">standard deviation of a reading by hand</param>
    /// <param name="tracingSd">what tracing again would scatter beyond the noise of the points (repeatability)</param>
    public static Disagreement? Compare(Measure measure, double reading, double readingSd, double tracingSd = 0)
    {
        if (measure.Value is not { } traced)
            return null;
        var sd = measure.Sd ?? 0;
        var joint = Math.Sqrt(readingSd * readingSd + tracingSd * tracingSd + sd * sd);
        var difference = reading - traced;
        return Math.Abs(difference) > 2 * joint ? new(measure.Key, measure.Unit, reading, traced, difference, joint) : null;
    }
}
