using System.Security.Cryptography;
using BackHistory.Application.Letters;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Service.Sharing;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Reminders;

/// <summary>Links in letters: sealed, with an end, for one thing only. Whoever holds one can do that thing and see nothing else.</summary>
public sealed class AnswerLinks(IDataProtectionProvider protection, Settings settings, LetterReaders readers, SharedLinks shared)
    : ILetterLinks
{
    private static readonly TimeSpan Life = TimeSpan.FromDays(90);
    private static readonly TimeSpan WordsLive = TimeSpan.FromHours(1);
    private readonly ITimeLimitedDataProtector _words = protection.CreateProtector("words of an answer").ToTimeLimitedDataProtector();
    private readonly ITimeLimitedDataProtector _seal = protection.CreateProtector("letters").ToTimeLimitedDataProtector();

    public string Answer(string practice, Guid reminderId, Answer answer, Guid personId, string language = "en") =>
        Url(new AnswerLink(practice, reminderId, answer, personId, null, language));

    public string Move(string practice, Guid reminderId, Guid personId, string language = "en") =>
        Url(new AnswerLink(practice, reminderId, null, personId, null, language, Move: true));

    public string Stop(string practice, Guid personId, LetterKind kind, string language = "en") =>
        Url(new AnswerLink(practice, null, null, personId, kind, language));

    public string Horse(Guid horseId) => $"{settings.Root}/horses/{horseId}";

    public string Look(string practice, Guid horseId, Guid linkId) => shared.Url(practice, horseId, linkId);

    public string Reminders => $"{settings.Root}/reminders";

    public string Nowhere => $"{settings.Root}/letter/preview";

    /// <returns>Null when the link was altered, is not ours or has ended, by its time or with whoever it was for: all look the
    /// same.</returns>
    public async Task<AnswerLink?> Read(string token, CancellationToken ct) =>
        Unseal(token) is { } link && await readers.Knows(link.Practice, link.PersonId, link.ReminderId, ct) ? link : null;

    /// <summary>What somebody wrote, so that the next page can show it to them and no log can read it.</summary>
    public string Keep(string words) => _words.Protect(words, WordsLive);

    /// <returns>Null when it was altered or is too old.</returns>
    public string? Kept(string? sealedWords)
    {
        if (string.IsNullOrEmpty(sealedWords))
            return null;
        try
        {
            return _words.Unprotect(sealedWords);
        }
        catch (Exception e) when (e is CryptographicException or FormatException)
        {
            return null;
        }
    }

    private AnswerLink? Unseal(string token)
    {
        try
        {
            return System.Text.Json.JsonSerializer.Deserialize<AnswerLink>(_seal.Unprotect(token));
        }
        catch (Exception e) when (e is CryptographicException or System.Text.Json.JsonException or FormatException)
        {
            return null;
        }
    }

    private string Url(AnswerLink link) => $"{settings.Root}/letter/{_seal.Protect(System.Text.Json.JsonSerializer.Serialize(link), Life)}";
}
