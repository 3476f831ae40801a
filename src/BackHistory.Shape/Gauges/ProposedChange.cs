namespace BackHistory.Shape.Gauges;

/// <summary>A change that the tracings ask for, for a qualified fitter to judge.</summary>
/// <param name="Of">`tree-left`, `tree-right`, `tree`, `panel-balance`, `muscle-junction-left`, …</param>
/// <param name="Change">in <paramref name="Unit"/>: today less baseline</param>
/// <param name="Sd">of the change</param>
/// <param name="Marks">the same in marks of the gauge, where it reaches</param>
/// <param name="SetTo">where on the gauge the tree would stand</param>
/// <param name="Sentence">plain words</param>
public sealed record ProposedChange(string Of, double Change, double Sd, string Unit, double? Marks, GaugeReading? SetTo, string Sentence);
