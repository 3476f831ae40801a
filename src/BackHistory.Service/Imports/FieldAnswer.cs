namespace BackHistory.Service.Imports;

public sealed record FieldAnswer(string Key, string Says, bool Needed, IReadOnlyList<string> Names);
