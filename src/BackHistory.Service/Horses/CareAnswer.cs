using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

/// <param name="Words">Null where there were none, or where they were erased.</param>
public sealed record CareAnswer(Guid NoteId, CareKind Kind, DateOnly From, DateOnly? Until, string? Words);
