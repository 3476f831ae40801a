namespace BackHistory.Service.Configuration;

/// <summary>How letters leave: through a mail server, or as files for whoever has none.</summary>
/// <param name="Host">Null writes <c>.eml</c> files into <paramref name="Folder"/>.</param>
/// <param name="Domain">The right-hand side of message ids.</param>
public sealed record MailSettings(string? Host, int Port, string? User, string? Password, string From, string Domain, string Folder)
{
    /// <summary>A mailbox as a folder (a file a message, or a Maildir) into which the mail server puts what comes back; null = none is
    /// read.</summary>
    public string? Reports { get; init; }

    /// <summary>Whether letters and the password may go in clear to a server outside this machine that offers no encryption.</summary>
    public bool InClear { get; init; }

    public static MailSettings Read(IConfiguration mail, string folder) =>
        new(
            mail["Host"] is { Length: > 0 } host ? host : null,
            mail.GetValue("Port", 587),
            mail["User"],
            mail["Password"],
            mail["From"] ?? "practice@backhistory.invalid",
            mail["Domain"] ?? "backhistory.invalid",
            folder
        )
        {
            Reports = mail["Reports"] is { Length: > 0 } reports ? Path.GetFullPath(reports) : null,
            InClear = mail["InClear"] is "1" or "true" or "yes",
        };
}
