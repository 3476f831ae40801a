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

/// <summary>Their words, in English and German. Plain text: a letter about a sign-in carries nothing that could be mistaken.</summary>
internal static class AccountLetterWords
{
    /// <param name="link">Where there is something to do.</param>
    /// <param name="about">The practice, the address or the thing that it is about.</param>
    public static (string Subject, string Text) Of(AccountLetter letter, string language, string? link, string? about) =>
        language == "de" ? German(letter, link, about) : English(letter, link, about);

    private static (string Subject, string Text) English(AccountLetter letter, string? link, string? about) =>
        letter switch
        {
            AccountLetter.NewPassword => (
                "A new password",
                $"Somebody, probably you, asked for a new password.\n\nChoose it here within the hour:\n{link}\n\nIf it was not you, do "
                    + $"nothing: the old password stays."
            ),
            AccountLetter.ConfirmAddress => (
                "Confirm your address",
                $"Confirm within the hour that this is your address:\n{link}\n\nIf you did not ask for this, do nothing."
            ),
            AccountLetter.Invitation => (
                "An invitation",
                $"{about} asks you to work with them in BackHistory.\n\nAccept within a week:\n{link}\n\nIf you do not know them, do "
                    + $"nothing."
            ),
            AccountLetter.Shared => (
                "A horse is shared with you",
                $"{about} lets you see one of their horses in BackHistory.\n\nAccept within a week:\n{link}\n\nIf you do not know them, "
                    + $"do nothing."
            ),
            AccountLetter.AddressChanged => (
                "Your address was changed",
                $"The sign-in that used this address now uses another.{English()}"
            ),
            AccountLetter.PasswordChanged => (
                "Your password was changed",
                $"The password of your sign-in was changed, and you were signed out everywhere else.{English()}"
            ),
            AccountLetter.SecondFactorChanged => (
                "Your second factor was changed",
                $"The codes that your sign-in asks for were {about}.{English()}"
            ),
            AccountLetter.PasskeyAdded => ("A passkey was added", $"The passkey \"{about}\" now signs in as you.{English()}"),
            AccountLetter.PasskeyRemoved => ("A passkey was removed", $"The passkey \"{about}\" no longer signs in as you.{English()}"),
            AccountLetter.KeyMade => ("A key for a program was made", $"The key \"{about}\" now lets a program work as you.{English()}"),
            _ => throw new ArgumentOutOfRangeException(nameof(letter), letter, "no such letter"),
        };

    private static (string Subject, string Text) German(AccountLetter letter, string? link, string? about) =>
        letter switch
        {
            AccountLetter.NewPassword => (
                "Ein neues Passwort",
                $"Jemand, wahrscheinlich Sie, hat ein neues Passwort verlangt.\n\nWählen Sie es hier innerhalb einer "
                    + $"Stunde:\n{link}\n\nWaren Sie es nicht, tun Sie nichts: das alte Passwort bleibt."
            ),
            AccountLetter.ConfirmAddress => (
                "Bestätigen Sie Ihre Adresse",
                $"Bestätigen Sie innerhalb einer Stunde, dass dies Ihre Adresse ist:\n{link}\n\nHaben Sie das nicht verlangt, tun Sie "
                    + $"nichts."
            ),
            AccountLetter.Invitation => (
                "Eine Einladung",
                $"{about} lädt Sie ein, in BackHistory mitzuarbeiten.\n\nNehmen Sie innerhalb einer Woche an:\n{link}\n\nKennen Sie den "
                    + $"Absender nicht, tun Sie nichts."
            ),
            AccountLetter.Shared => (
                "Ein Pferd wird mit Ihnen geteilt",
                $"{about} lässt Sie eines ihrer Pferde in BackHistory sehen.\n\nNehmen Sie innerhalb einer Woche an:\n{link}\n\nKennen "
                    + $"Sie den Absender nicht, tun Sie nichts."
            ),
            AccountLetter.AddressChanged => (
                "Ihre Adresse wurde geändert",
                $"Die Anmeldung, die diese Adresse benutzt hat, benutzt nun eine andere.{German()}"
            ),
            AccountLetter.PasswordChanged => (
                "Ihr Passwort wurde geändert",
                $"Das Passwort Ihrer Anmeldung wurde geändert, und überall sonst wurden Sie abgemeldet.{German()}"
            ),
            AccountLetter.SecondFactorChanged => (
                "Ihr zweiter Faktor wurde geändert",
                $"Die Codes, nach denen Ihre Anmeldung fragt, wurden {(about == "turned off" ? "abgeschaltet" : "eingerichtet")}.{German()}"
            ),
            AccountLetter.PasskeyAdded => ("Ein Passkey kam hinzu", $"Der Passkey „{about}“ meldet nun als Sie an.{German()}"),
            AccountLetter.PasskeyRemoved => (
                "Ein Passkey wurde entfernt",
                $"Der Passkey „{about}“ meldet nicht mehr als Sie an.{German()}"
            ),
            AccountLetter.KeyMade => (
                "Ein Schlüssel für ein Programm wurde gemacht",
                $"Der Schlüssel „{about}“ lässt nun ein Programm als Sie arbeiten.{German()}"
            ),
            _ => throw new ArgumentOutOfRangeException(nameof(letter), letter, "no such letter"),
        };

    private static string English() =>
        "\n\nIf it was not you, ask for a new password at once on the sign-in page, and tell your practice's administrator.";

    private static string German() =>
        "\n\nWaren Sie es nicht, verlangen Sie sofort auf der Anmeldeseite ein neues Passwort und sagen Sie es der Verwaltung Ihrer "
        + "Praxis.";
}
