namespace BackHistory.Service.Access.Letters;

/// <summary>The words of letters about an account. Plain text: a letter about a sign-in carries nothing that could be mistaken.</summary>
internal static class AccountLetterWords
{
    /// <summary>What <see cref="AccountLetter.SecondFactorChanged"/> is about when codes are no longer asked for.</summary>
    internal const string TurnedOff = "turned off";

    /// <param name="language">Of the account.</param>
    /// <param name="link">Where there is something to do.</param>
    /// <param name="about">The practice, the address or the thing that it is about.</param>
    public static (string Subject, string Text) Write(AccountLetter letter, string language, string? link, string? about)
    {
        var said = ReportLanguage.For(language);
        var thing = letter switch
        {
            AccountLetter.SecondFactorChanged when about == TurnedOff => said["account-letter.turned-off"],
            AccountLetter.SecondFactorChanged => said["account-letter.set-up"],
            _ => about,
        };
        var key = KeyOf(letter);
        return (said[$"{key}.subject"], said[key, link, thing, said["account-letter.not-you"]]);
    }

    private static string KeyOf(AccountLetter letter) =>
        letter switch
        {
            AccountLetter.NewPassword => "account-letter.new-password",
            AccountLetter.ConfirmAddress => "account-letter.confirm-address",
            AccountLetter.Invitation => "account-letter.invitation",
            AccountLetter.Shared => "account-letter.shared",
            AccountLetter.AddressChanged => "account-letter.address-changed",
            AccountLetter.PasswordChanged => "account-letter.password-changed",
            AccountLetter.SecondFactorChanged => "account-letter.second-factor-changed",
            AccountLetter.PasskeyAdded => "account-letter.passkey-added",
            AccountLetter.PasskeyRemoved => "account-letter.passkey-removed",
            AccountLetter.KeyMade => "account-letter.key-made",
            _ => throw new ArgumentOutOfRangeException(nameof(letter), letter, "no such letter"),
        };
}
