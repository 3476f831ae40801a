namespace BackHistory.Store.Accounts;

/// <param name="Practice">The tenant.</param>
/// <param name="PersonId">Who this account is there.</param>
public sealed record Membership(string Practice, Guid PersonId, PracticeRole Role);
