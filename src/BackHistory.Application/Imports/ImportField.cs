namespace BackHistory.Application.Imports;

/// <param name="Key">As the mapping names it.</param>
/// <param name="Needed">A line without it cannot enter.</param>
public sealed record ImportField(string Key, FieldForm Form, string Says, bool Needed = false);
