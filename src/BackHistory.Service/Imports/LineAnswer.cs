using BackHistory.Store.Imports;

namespace BackHistory.Service.Imports;

/// <param name="Who">The horse, person, yard or saddle of the line.</param>
/// <param name="Readings">What every cell that could be read was taken for, while it is tried.</param>
/// <param name="Faults">Everything that is wrong with it; the first of them is the line's own code, message and column.</param>
public sealed record LineAnswer(
    int Line,
    LineVerdict Verdict,
    string? Code,
    string? Message,
    string? Column,
    bool TakenBack = false,
    string? StaysBecause = null,
    string? Who = null,
    IReadOnlyList<CellFault>? Faults = null,
    IReadOnlyList<CellReading>? Readings = null
)
{
    internal static LineAnswer From(ImportLine l) =>
        new(l.Line, l.Verdict, l.Code, l.Message, l.Column, l.TakenBack, l.StaysBecause, l.Who, l.Faults, l.Readings);
}
