namespace BackHistory.Store.Accounts;

/// <summary>A grant that this account accepted. Whether it still holds is the practice's to say, at every look.</summary>
public sealed record HeldGrant(string Practice, Guid HorseId, Guid GrantId);
