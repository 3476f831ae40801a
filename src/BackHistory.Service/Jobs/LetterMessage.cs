using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>A composed letter as a message of RFC 5322.</summary>
public static class LetterMessage
{
    /// <summary>The same for every attempt at a letter, so that its reader's program shows one.</summary>
    public static string IdOf(Guid letterId, MailSettings mail) => $"{letterId:N}@{mail.Domain}";

    public static MimeMessage Compose(LetterContent letter, string practiceName, MailSettings mail)
    {
        var body = new BodyBuilder { TextBody = letter.Text, HtmlBody = letter.Html };
        foreach (var picture in letter.Pictures)
        {
            var kind = picture.MediaType == "image/jpeg" ? "jpeg" : "png";
            var name = $"{picture.ContentId}.{kind}";
            var part = body.LinkedResources.Add(name, picture.Png, new ContentType("image", kind));
            part.ContentId = picture.ContentId;
            part.ContentDisposition = new ContentDisposition(ContentDisposition.Inline) { FileName = name };
        }

        var message = new MimeMessage
        {
            MessageId = IdOf(letter.Id, mail),
            Subject = letter.Subject,
            Date = letter.ComposedAt,
            Body = letter.Calendar is { } calendar ? WithCalendar(body.ToMessageBody(), calendar) : body.ToMessageBody(),
            From = { new MailboxAddress(practiceName, mail.From) },
            To = { new MailboxAddress(letter.ToName, letter.ToAddress) },
        };
        if (letter.ReplyTo is { } replies)
            message.ReplyTo.Add(new MailboxAddress(practiceName, replies));
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
