using BackHistory.Store.Imports;

namespace BackHistory.Service.Imports;

public sealed record FieldsAnswer(
    IReadOnlyDictionary<ImportKind, IReadOnlyList<FieldAnswer>> Fields,
    IReadOnlyList<string> DateFormats,
    IReadOnlyList<string> DecimalMarks,
    IReadOnlyList<string> LengthUnits,
    IReadOnlyList<string> WeightUnits
);
