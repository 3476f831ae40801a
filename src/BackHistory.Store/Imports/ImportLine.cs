using System.Text.Json.Serialization;

namespace BackHistory.Store.Imports;

/// <summary>What became of one line.</summary>
/// <param name="Code">Of the first fault; the same for <paramref name="Message"/> and <paramref name="Column"/>.</param>
/// <param name="Column">The header of the cell that is wrong.</param>
/// <param name="Made">What entering it made, so that it can be taken back.</param>
/// <param name="StaysBecause">Why it could not be taken back.</param>
/// <param name="Who">The horse, person, yard or saddle of the line; people and yards only as long as nothing is kept of it.</param>
/// <param name="Faults">Everything that is wrong with it; null in lines of earlier releases.</param>
public sealed record ImportLine(
    Guid Id,
    Guid ImportId,
    int Line,
    LineVerdict Verdict,
    string? Code,
    string? Message,
    string? Column,
    IReadOnlyList<MadeByImport> Made,
    bool TakenBack = false,
    string? StaysBecause = null,
    string? Who = null,
    IReadOnlyList<CellFault>? Faults = null
)
{
    /// <summary>What every cell that could be read was taken for, while it is tried; it is not kept.</summary>
    [JsonIgnore]
    public IReadOnlyList<CellReading> Readings { get; init; } = [];
}
