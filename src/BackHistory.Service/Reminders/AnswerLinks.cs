using System.Security.Cryptography;
using BackHistory.Application.Letters;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Reminders;

/// <summary>Links in letters: sealed, with an end, for one thing only. Whoever holds one can do that thing and see nothing else.</summary>
public sealed class AnswerLinks(IDataProtectionProvider protection, Settings settings, LetterReaders readers) : ILetterLinks
{
    private static readonly TimeSpan Life = TimeSpan.FromDays(90);
    private readonly ITimeLimitedDataProtector _seal = protection.CreateProtector("letters").ToTimeLimitedDataProtector();

    public string Answer(string practice, Guid reminderId, Answer answer, Guid personId, string language = "en") =>
        Url(new AnswerLink(practice, reminderId, answer, personId, null, language));

    public string Move(string practice, Guid reminderId, Guid personId, string language = "en") =>
        Url(new AnswerLink(practice, reminderId, null, personId, null, language, Move: true));

    public string Stop(string practice, Guid personId, LetterKind kind, string language = "en") =>
        Url(new AnswerLink(practice, null, null, personId, kind, language));

    public string Horse(Guid horseId) => $"{settings.Root}/horses/{horseId}";

    public string Reminders => $"{settings.Root}/reminders";

    public string Nowhere => $"{settings.Root}/letter/preview";

    /// <returns>Null when the link was altered, is not ours or has ended, by its time or with whoever it was for: all look the
    /// same.</returns>
    public async Task<AnswerLink?> Read(string token, CancellationToken ct) =>
        Unseal(token) is { } link && await readers.Knows(link.Practice, link.PersonId, link.ReminderId, ct) ? link : null;

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
