using BackHistory.History.Reminders;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>Sends composed letters: through the mail server that is configured, or as files into a folder.</summary>
public sealed class MailSender(Settings settings)
{
    /// <summary>The same for every attempt at a letter, so that its reader's program shows one.</summary>
    public string MessageIdOf(Guid letterId) => $"{letterId:N}@{settings.Mail.Domain}";

    /// <summary>How letters leave, in words for the page.</summary>
    public string Way => settings.Mail.Host is { } host ? host : $"files under {settings.Mail.Folder} (no mail server is configured)";

    /// <summary>Sends letters over one connection; the caller records each as it is accepted.</summary>
    /// <exception cref="IOException">The server or the folder cannot be reached.</exception>
    public async Task<IMailTransport> Open(CancellationToken ct)
    {
        if (settings.Mail.Host is null)
        {
            Directory.CreateDirectory(settings.Mail.Folder);
            return new FolderPost(settings.Mail.Folder);
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
            return new ServerPost(client, settings.Mail.Host);
        }
        catch
        {
            client.Dispose();
            throw;
        }
    }

    public MimeMessage Message(LetterContent letter, string practiceName)
    {
        var body = new BodyBuilder { TextBody = letter.Text, HtmlBody = letter.Html };
        foreach (var picture in letter.Pictures)
        {
            var part = body.LinkedResources.Add($"{picture.ContentId}.png", picture.Png, new ContentType("image", "png"));
            part.ContentId = picture.ContentId;
            part.ContentDisposition = new ContentDisposition(ContentDisposition.Inline) { FileName = $"{picture.ContentId}.png" };
        }

        var message = new MimeMessage
        {
            MessageId = MessageIdOf(letter.Id),
            Subject = letter.Subject,
            Date = letter.ComposedAt,
            Body = letter.Calendar is { } calendar ? WithCalendar(body.ToMessageBody(), calendar) : body.ToMessageBody(),
            From = { new MailboxAddress(practiceName, settings.Mail.From) },
            To = { new MailboxAddress(letter.ToName, letter.ToAddress) },
        };
        // Reports about its delivery name the letter, whatever becomes of its headers on the way.
        message.Headers.Add("X-Letter", letter.Id.ToString("N"));
        message.Headers.Add("Auto-Submitted", "auto-generated");
        message.Headers.Add(HeaderId.ListUnsubscribe, $"<{letter.StopUrl}>");
        message.Headers.Add(HeaderId.ListUnsubscribePost, "List-Unsubscribe=One-Click");
        return message;
    }

    /// <summary>The appointment beside the words, so that mail programs offer to take it over, and once more as a file for those that do
    /// not.</summary>
    private static Multipart WithCalendar(MimeEntity words, LetterCalendar calendar)
    {
        var type = new ContentType("text", "calendar") { Charset = "utf-8" };
        type.Parameters.Add("method", calendar.Method);
        var bytes = System.Text.Encoding.UTF8.GetBytes(calendar.Text);
        MimePart Part(ContentType of, ContentDisposition disposition) =>
            new(of)
            {
                Content = new MimeContent(new MemoryStream(bytes)),
                ContentTransferEncoding = ContentEncoding.Base64,
                ContentDisposition = disposition,
            };
        var file = new ContentType("application", "ics") { Name = "visit.ics" };
        return new Multipart("mixed")
        {
            new MultipartAlternative { words, Part(type, new ContentDisposition(ContentDisposition.Inline)) },
            Part(file, new ContentDisposition(ContentDisposition.Attachment) { FileName = "visit.ics" }),
        };
    }
}

/// <summary>Asks servers that can (RFC 3461) to report about each letter, under its message id.</summary>
internal sealed class ReportingClient : SmtpClient
{
    protected override string? GetEnvelopeId(MimeMessage message) => message.MessageId;

    protected override DeliveryStatusNotification? GetDeliveryStatusNotifications(MimeMessage message, MailboxAddress mailbox) =>
        DeliveryStatusNotification.Success | DeliveryStatusNotification.Failure | DeliveryStatusNotification.Delay;
}

/// <summary>An open way out.</summary>
public interface IMailTransport : IAsyncDisposable
{
    /// <returns>How it went, for the record.</returns>
    Task<string> Send(MimeMessage message, CancellationToken ct);
}

internal sealed class ServerPost(SmtpClient client, string host) : IMailTransport
{
    public async Task<string> Send(MimeMessage message, CancellationToken ct)
    {
        var answer = await client.SendAsync(message, ct);
        return string.IsNullOrWhiteSpace(answer) ? host : $"{host}: {(answer.Length > 120 ? answer[..120] : answer).Trim()}";
    }

    public async ValueTask DisposeAsync()
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

internal sealed class FolderPost(string folder) : IMailTransport
{
    public const string Through = Letter.AsFile;

    public async Task<string> Send(MimeMessage message, CancellationToken ct)
    {
        // Named by its message id and moved into place whole: written twice it is still one letter.
        var name = Path.Combine(folder, message.MessageId!.Split('@')[0] + ".eml");
        var half = $"{name}.{Guid.NewGuid():N}.tmp";
        await using (var file = File.Create(half))
            await message.WriteToAsync(file, ct);
        File.Move(half, name, overwrite: true);
        return Through;
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
