using BackHistory.Store.Imports;

namespace BackHistory.Service.Imports;

public sealed record LineAnswer(
    int Line,
    LineVerdict Verdict,
    string? Code,
    string? Message,
    string? Column,
    bool TakenBack = false,
    string? StaysBecause = null
)
{
    internal static LineAnswer Of(ImportLine l) => new(l.Line, l.Verdict, l.Code, l.Message, l.Column, l.TakenBack, l.StaysBecause);
}
