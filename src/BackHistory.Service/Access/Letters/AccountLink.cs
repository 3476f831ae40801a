namespace BackHistory.Service.Access.Letters;

/// <param name="Id">The account's, or the invitation's.</param>
/// <param name="Stamp">The account's as it was: after the link was used, or the password changed, it is another and the link is
/// void.</param>
/// <param name="Email">The address that is being confirmed.</param>
public sealed record AccountLink(AccountLinkKind Kind, Guid Id, string? Stamp, string? Email);
