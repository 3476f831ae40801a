using System.Net;
using BackHistory.Application.Letters;
using BackHistory.Service.Configuration;
using BackHistory.Service.Store;
using MailKit.Net.Smtp;
using MailKit.Security;

namespace BackHistory.Service.Jobs;

/// <summary>Sends composed letters: through the mail server that is configured, or as files into a folder.</summary>
public sealed class MailSender(Settings settings) : IMailSender
{
    public string MessageIdOf(Guid letterId) => LetterMessage.IdOf(letterId, settings.Mail);

    public string From => settings.Mail.From;

    /// <summary>How letters leave, in words for the page.</summary>
    public string Way => settings.Mail.Host is { } host ? host : $"files under {settings.Mail.Folder} (no mail server is configured)";

    /// <summary>Sends letters over one connection; the caller records each as it is accepted.</summary>
    /// <exception cref="IOException">The server or the folder cannot be reached.</exception>
    public async Task<MailTransport> Open(CancellationToken ct)
    {
        if (settings.Mail.Host is null)
        {
            ClosedFiles.NewFolder(settings.Mail.Folder);
            return new FolderTransport(settings.Mail.Folder, settings.Mail);
        }

        var client = new ReportingClient();
        try
        {
            var security = SecurityOf(settings.Mail);
            await client.ConnectAsync(settings.Mail.Host, settings.Mail.Port, security, ct);
            if (settings.Mail.User is { Length: > 0 } user)
                await client.AuthenticateAsync(user, settings.Mail.Password ?? "", ct);
            return new SmtpTransport(client, settings.Mail.Host, settings.Mail);
        }
        catch
        {
            client.Dispose();
            throw;
        }
    }

    /// <summary>
    /// Encrypted from the first byte on 465 (RFC 8314), else by STARTTLS (RFC 3207). A server that does not offer it gets nothing, unless
    /// it is on this machine or whoever runs the service has said so.
    /// </summary>
    private static SecureSocketOptions SecurityOf(MailSettings mail) =>
        mail.Port == 465 ? SecureSocketOptions.SslOnConnect
        : mail.InClear || IsThisMachine(mail.Host!) ? SecureSocketOptions.StartTlsWhenAvailable
        : SecureSocketOptions.StartTls;

    private static bool IsThisMachine(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out var at) && IPAddress.IsLoopback(at));

    async Task<IMailTransport> IMailSender.Open(CancellationToken ct)
    {
        try
        {
            return await Open(ct);
        }
        catch (Exception e) when (e is SmtpCommandException or NotSupportedException || MailTransport.IsUnreachable(e))
        {
            // Whatever it says before it is given a letter is said of none.
            throw new MailUnreachableException(e);
        }
    }
}
