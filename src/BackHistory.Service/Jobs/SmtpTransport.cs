using BackHistory.Service.Configuration;
using MailKit;
using MailKit.Net.Smtp;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>Asks servers that can (RFC 3461) to report about each letter, under its message id.</summary>
internal sealed class ReportingClient : SmtpClient
{
    protected override string? GetEnvelopeId(MimeMessage message) => message.MessageId;

    protected override DeliveryStatusNotification? GetDeliveryStatusNotifications(MimeMessage message, MailboxAddress mailbox) =>
        DeliveryStatusNotification.Success | DeliveryStatusNotification.Failure | DeliveryStatusNotification.Delay;
}

/// <summary>Through a mail server.</summary>
internal sealed class SmtpTransport(SmtpClient client, string host, MailSettings mail) : MailTransport(mail)
{
    public override async Task<string> Send(MimeMessage message, CancellationToken ct)
    {
        var answer = await client.SendAsync(message, ct);
        return string.IsNullOrWhiteSpace(answer) ? host : $"{host}: {(answer.Length > 120 ? answer[..120] : answer).Trim()}";
    }

    public override async ValueTask DisposeAsync()
    {
        try
        {
            if (client.IsConnected)
                await client.DisconnectAsync(quit: true);
        }
        catch (IOException)
        {
            // The letters are with the server; how it says goodbye does not matter.
        }

        client.Dispose();
    }
}
