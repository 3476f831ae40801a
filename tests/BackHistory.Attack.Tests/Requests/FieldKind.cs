namespace BackHistory.Attack.Tests.Requests;

/// <summary>What should stand at a place.</summary>
internal enum FieldKind
{
    Text,
    Number,
    Time,
    Id,
    List,
    Object,
}
