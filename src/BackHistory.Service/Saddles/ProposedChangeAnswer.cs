using BackHistory.Language.Saddles;
using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Saddles;

/// <summary>A change that the tracings ask for, as the interface answers it.</summary>
/// <param name="Of"><c>tree-left</c>, <c>tree-right</c>, <c>tree</c>, <c>panel-balance</c>, <c>muscle-junction-left</c>, …</param>
/// <param name="Change">In the unit: today less baseline.</param>
/// <param name="Sd">Of the change.</param>
/// <param name="Marks">The same in marks of the gauge, where it reaches.</param>
/// <param name="SetTo">Where on the gauge the tree would stand.</param>
/// <param name="Sentence">Plain words.</param>
public sealed record ProposedChangeAnswer(
    string Of,
    double Change,
    double Sd,
    string Unit,
    double? Marks,
    GaugeReading? SetTo,
    string Sentence
)
{
    public static ProposedChangeAnswer From(ProposedChange c) => new(c.Of, c.Change, c.Sd, c.Unit, c.Marks, c.SetTo, c.InWords());
}
