namespace BackHistory.Shape.Gauges;

/// <summary>Why the tracings cannot say what a part of the saddle needs.</summary>
public enum UnsaidReason
{
    /// <summary>The measure is not there both at the baseline and today.</summary>
    NotMeasured,

    /// <summary>The setting lies beyond the gauge's table.</summary>
    OutsideGauge,

    /// <summary>There is no topline both at the baseline and today.</summary>
    NoTopline,

    /// <summary>The junction of the muscles is not marked today.</summary>
    NotMarked,
}
