namespace BackHistory.Service.Access.Letters;

/// <summary>The letters that are about an account and not about a horse.</summary>
public enum AccountLetter
{
    NewPassword,
    ConfirmAddress,
    Invitation,
    AddressChanged,
    PasswordChanged,
    SecondFactorChanged,
    PasskeyAdded,
    PasskeyRemoved,
    KeyMade,
    Shared,
}
