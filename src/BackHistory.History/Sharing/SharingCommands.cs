namespace BackHistory.History.Sharing;

public sealed record GrantAccess(Guid GrantId, SharedWith Role, SharedScope Scope, bool MayComment, DateOnly? Until, Guid By);

public sealed record RevokeAccess(Guid GrantId, string? Reason, Guid By);

public sealed record MakeLink(Guid LinkId, SharedWith Role, SharedScope Scope, bool MayComment, bool BindsToDevice, int Days, Guid By);

public sealed record BindLink(Guid LinkId, string Device, Guid By);

public sealed record RevokeLink(Guid LinkId, string? Reason, Guid By);

/// <param name="IntoId">The registration that stays.</param>
public sealed record MergeSharingAway(Guid IntoId, Guid By);

/// <param name="DuplicateId">The registration that was a second one.</param>
public sealed record TakeInSharing(Guid DuplicateId, Guid HorseId, Guid By);

public sealed record MakeComment(Guid CommentId, Guid? GrantId, Guid? LinkId, string Words, Guid By);
