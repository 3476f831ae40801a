using BackHistory.Application.Letters;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>Reads what mail servers report about letters (delivery-status messages, RFC 3464).</summary>
public sealed class DeliveryReports(Settings settings)
{
    private const int LongestText = 200;

    /// <returns>Null when the message is no report about a letter of this service; an answer from a person is none either.</returns>
    public TakeDeliveryReport.Input? Read(MimeMessage message)
    {
        var parts = message.BodyParts.ToList();
        if (parts.OfType<MessageDeliveryStatus>().FirstOrDefault() is not { } status || LetterOf(message, parts) is not { } letter)
            return null;
        // The first group is about the message, every other about one recipient; our letters have one.
        var said = status.StatusGroups.Skip(1).FirstOrDefault(g => g.Contains("Action"));
        if (said?["Action"] is not { } action || WordOf(action) is not { } word)
            return null;
        var why = said["Diagnostic-Code"]?.Split(';', 2)[^1].Trim();
        var text = string.Join(": ", new[] { said["Status"]?.Trim(), why }.Where(t => !string.IsNullOrEmpty(t)));
        return new TakeDeliveryReport.Input(
            letter,
            word,
            text.Length == 0 ? action.Trim()
                : text.Length > LongestText ? text[..LongestText]
                : text
        );
    }

    private static DeliveryWord? WordOf(string action) =>
        action.Trim().ToLowerInvariant() switch
        {
            "failed" => DeliveryWord.Bounced,
            "delayed" => DeliveryWord.Delayed,
            // Relayed and expanded: it was handed on to somebody who reports no further.
            "delivered" or "relayed" or "expanded" => DeliveryWord.Delivered,
            _ => null,
        };

    /// <summary>By the letter's own mark in what is sent back of it, else by its message id there or in the envelope.</summary>
    private Guid? LetterOf(MimeMessage report, List<MimeEntity> parts)
    {
        var back =
            parts.OfType<MessagePart>().Select(p => p.Message?.Headers).FirstOrDefault(h => h is not null)
            ?? parts.OfType<TextRfc822Headers>().Select(p => p.Message?.Headers).FirstOrDefault(h => h is not null);
        if (back?["X-Letter"] is { } mark && Guid.TryParseExact(mark.Trim(), "N", out var letter))
            return letter;
        var envelope = parts
            .OfType<MessageDeliveryStatus>()
            .Select(s => s.StatusGroups.FirstOrDefault()?["Original-Envelope-Id"])
            .FirstOrDefault();
        string?[] named = [back?["Message-Id"], envelope, report.InReplyTo, .. report.References];
        return named.Select(OfMessageId).FirstOrDefault(id => id is not null);
    }

    private Guid? OfMessageId(string? text)
    {
        var id = text?.Trim().Trim('<', '>').Split('@');
        return
            id is [var letter, var domain]
            && domain.Equals(settings.Mail.Domain, StringComparison.OrdinalIgnoreCase)
            && Guid.TryParseExact(letter, "N", out var found)
            ? found
            : null;
    }
}
