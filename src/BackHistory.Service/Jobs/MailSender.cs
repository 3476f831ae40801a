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
            var security =
                settings.Mail.Port == 25 || settings.Mail.Port > 1024
                    ? SecureSocketOptions.StartTlsWhenAvailable
                    : SecureSocketOptions.Auto;
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

    async Task<IMailTransport> IMailSender.Open(CancellationToken ct)
    {
        try
        {
            return await Open(ct);
        }
        catch (SmtpCommandException e)
        {
            throw MailTransport.Refused(e);
        }
        catch (Exception e) when (MailTransport.IsUnreachable(e))
        {
            throw new MailUnreachableException(e);
        }
    }
}
