using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Tests;

/// <summary>Reads one measure of an answer, or why it is not there.</summary>
internal static class Answers
{
    internal static double Value(this TracingAnswer answer, string key)
    {
        Assert.Null(answer.Refused);
        var measure = Assert.Single(answer.Measures, m => m.Key == key);
        Assert.True(measure.Value is not null, $"{key} is null: {measure.Why}");
        return measure.Value.Value;
    }

    internal static string? Why(this TracingAnswer answer, string key)
    {
        Assert.Null(answer.Refused);
        var measure = Assert.Single(answer.Measures, m => m.Key == key);
        Assert.Null(measure.Value);
        return measure.Why;
    }
}
