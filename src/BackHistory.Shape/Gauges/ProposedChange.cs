namespace BackHistory.Shape.Gauges;

/// <summary>A change that the tracings ask for, for a qualified fitter to judge.</summary>
/// <param name="Of">`tree-left`, `tree-right`, `tree`, `panel-balance`, `muscle-junction-left`, …</param>
/// <param name="Change">in <paramref name="Unit"/>: today less baseline</param>
/// <param name="Sd">of the change</param>
/// <param name="Marks">the same in marks of the gauge, where it reaches</param>
/// <param name="SetTo">where on the gauge the tree would stand</param>
/// <param name="Junction">where the junction of the muscles lies today; null where the change is of something else</param>
public sealed record ProposedChange(
    string Of,
    double Change,
    double Sd,
    string Unit,
    double? Marks,
    GaugeReading? SetTo,
    MuscleJunction? Junction = null
)
{
    /// <summary>Told from nothing with 95 % confidence.</summary>
    public bool IsTold => Math.Abs(Change) > 1.96 * Sd;
}
