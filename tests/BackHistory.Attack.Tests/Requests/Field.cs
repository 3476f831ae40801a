namespace BackHistory.Attack.Tests.Requests;

/// <summary>One place of a body.</summary>
/// <param name="Path">Names of fields and places in lists, from outside in; empty for the whole body.</param>
internal sealed record Field(IReadOnlyList<object> Path, FieldKind Kind);
