using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>What an <see cref="OperatingCurveChart"/> shows.</summary>
public sealed record OperatingCurveInput
{
    /// <summary>The finding as a sentence; it is the chart's title.</summary>
    public required string Finding { get; init; }

    /// <summary>What is to be detected, and by when.</summary>
    public required string Subject { get; init; }

    /// <summary>At most five; the first is ours and drawn strongest.</summary>
    public required IReadOnlyList<OperatingCurve> Curves { get; init; }

    /// <summary>The promise: no more false alarms than this, per horse and year.</summary>
    public double? PromisedFalseAlarms { get; init; }

    /// <summary>The promise: at least this part detected, 0–1.</summary>
    public double? PromisedDetection { get; init; }

    public ReportLanguage Language { get; init; }

    internal void Check()
    {
        if (Curves.Count is 0 or > 5)
            throw new NotDrawableException($"An operating curve chart shows one to five curves, not {Curves.Count}.");
        foreach (var curve in Curves)
        {
            foreach (var point in curve.Points.Concat(curve.InUse is { } use ? [use] : []))
            {
                NotDrawableException.ThrowUnlessSd(point.FalseAlarmsPerHorseYear, $"A false alarm rate of {curve.Name}");
                if (!(point.Detected is >= 0 and <= 1))
                    throw new NotDrawableException($"A detection of {curve.Name} is not between 0 and 1.");
            }
        }
    }
}
