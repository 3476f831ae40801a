namespace BackHistory.History.Naming;

/// <summary>An id of something that lies beside the events.</summary>
/// <param name="Place">In a request, for example <c>ownerId</c>.</param>
public sealed record NamedId(NamedKind Kind, Guid Id, string Place);
