namespace BackHistory.Service.Access.Letters;

/// <summary>What a link in a letter about an account lets its reader do.</summary>
public enum AccountLinkKind
{
    NewPassword,
    ConfirmAddress,
    Accept,
}
