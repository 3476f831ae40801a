using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

/// <param name="PersonId">For whom it is; the horse's owner where it is left out and the role is the owner's.</param>
/// <param name="Days">1 to 90.</param>
public sealed record LinkRequest(Guid? PersonId, SharedWith Role, SharedScope? Scope, bool? MayComment, bool? BindsToDevice, int? Days);
