using System.Net.Sockets;
using BackHistory.Application.Letters;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using MailKit;
using MailKit.Net.Smtp;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>An open way out, for letters and for other messages.</summary>
public abstract class MailTransport(MailSettings mail) : Application.Letters.IMailTransport
{
    public async Task<string> Send(LetterContent letter, string practiceName, CancellationToken ct)
    {
        try
        {
            return await Send(LetterMessage.Compose(letter, practiceName, mail), ct);
        }
        catch (SmtpCommandException e)
        {
            throw Refused(e);
        }
        catch (Exception e) when (IsUnreachable(e))
        {
            throw new MailUnreachableException(e);
        }
    }

    /// <returns>How it went, for the record.</returns>
    public abstract Task<string> Send(MimeMessage message, CancellationToken ct);

    public abstract ValueTask DisposeAsync();

    /// <summary>Nothing is wrong with a message: none would get through now.</summary>
    internal static bool IsUnreachable(Exception e) =>
        e
            is IOException
                or TimeoutException
                or ServiceNotConnectedException
                or MailKit.Security.AuthenticationException
                or MailKit.Security.SslHandshakeException
                or SocketException
                or SmtpProtocolException;

    internal static MailRefusedException Refused(SmtpCommandException e)
    {
        // A final word about the sender or the session is about this service's settings, not about the letter: it waits until they
        // are put right.
        var final = (int)e.StatusCode >= 500 && e.ErrorCode is SmtpErrorCode.RecipientNotAccepted or SmtpErrorCode.MessageNotAccepted;
        return new MailRefusedException((int)e.StatusCode, final, e);
    }
}
