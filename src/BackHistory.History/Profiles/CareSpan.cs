using BackHistory.History.Horses;

namespace BackHistory.History.Profiles;

public sealed record CareSpan(Guid NoteId, CareKind Kind, DateOnly From, DateOnly? Until);
