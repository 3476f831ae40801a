using System.Text.Json;
using BackHistory.Application.People;
using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Sharing;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Archives;

/// <summary>
/// Whether the documents of an archive could have come about: each is judged as the interface judges what is typed in, and what it is
/// about is in the archive's events.
/// </summary>
/// <param name="archive">What the events say.</param>
internal sealed class ArchivedDocumentsCheck(JudgedArchive archive, DateTimeOffset now)
{
    /// <summary>A document that changed once a second for thirty years.</summary>
    private const long MostVersions = 1_000_000_000;

    private const int LongestText = 2_000_000;
    private const int LongestSubject = 1000;
    private const int LongestDetail = 1000;

    /// <summary>Two stores' clocks.</summary>
    private static readonly TimeSpan ClocksApart = TimeSpan.FromDays(2);

    private readonly HashSet<(Type, Guid)> _seen = [];

    /// <summary>Why a document cannot be taken in; null when it can.</summary>
    public Refused? Problem(object document, JsonElement json) =>
        OfAny(document, json)
        ?? document switch
        {
            Person d => OfPerson(d),
            Yard d => OfVersion(d.Version) ?? new YardDetails(d.Name, d.Town, d.Address, d.Latitude, d.Longitude).Problem(),
            PracticeContact d => OfVersion(d.Version)
                ?? new ContactDetails(d.Address, d.Phone, d.ReplyTo).Problem()
                ?? d.Picture?.Problem(),
            HorseIdentity d => OfVersion(d.Version) ?? OfHorse(d.Id) ?? d.Problem(),
            Note d => OfNote(d),
            LetterContent d => OfLetter(d),
            Comment d => OfComment(d),
            Assessment d => OfHorse(d.Id),
            AuditNote d => OfAudit(d),
            _ => throw new ArgumentException($"{document.GetType().Name} is no document of an archive", nameof(document)),
        };

    private Refused? OfAny(object document, JsonElement json)
    {
        var id = document switch
        {
            Person d => d.Id,
            Yard d => d.Id,
            PracticeContact d => d.Id,
            HorseIdentity d => d.Id,
            Note d => d.Id,
            LetterContent d => d.Id,
            Comment d => d.Id,
            Assessment d => d.Id,
            AuditNote d => d.Id,
            _ => Guid.Empty,
        };
        if (id == Guid.Empty)
            return Implausible("it has no id.");
        if (!_seen.Add((document.GetType(), id)))
            return Implausible($"{id} stands there twice.");
        return WholeValue.FirstMissing(document) is { } missing ? Implausible($"'{missing}' is missing.")
            : WholeValue.FirstUnlisted(document) is { } unlisted ? Implausible(unlisted)
            : ArchivedNumbers.Problem(json);
    }

    private Refused? OfPerson(Person d) =>
        OfVersion(d.Version)
        ?? (archive.Erased.Contains(d.Id) ? Implausible("the history says that this person was erased.") : null)
        ?? new PersonDetails(d.Name, d.Email, d.Phone, d.Address, d.Role, d.Language, d.TimeZone).Problem()
        ?? (d.Consents.Count > Consent.MostOfAPerson ? Implausible("nobody was asked so often.") : null)
        ?? d.Consents.Select(c => OfMoment(c.NotedAt) ?? c.Problem(ZoneClock.Day(now + ClocksApart, TimeZoneInfo.Utc)))
            .FirstOrDefault(p => p is not null);

    private Refused? OfNote(Note d) =>
        OfMoment(d.At) ?? Note.OfWords(d.Words) ?? (archive.Named.Contains(d.Id) ? null : Implausible("no event names this note."));

    private Refused? OfLetter(LetterContent d)
    {
        if (!archive.Letters.TryGetValue(d.Id, out var owed))
            return Implausible("no event says that this letter was owed.");
        // One that left is a record, and its address was that of then.
        if (owed && !EmailAddress.TryParse(d.ToAddress, out _))
            return new Refused("bad-email", "A letter that still waits goes to what is no e-mail address: write it as anna@example.org.");
        if (OneLine(d.ToName, LongestSubject) && OneLine(d.ToAddress, LongestSubject) && OneLine(d.Subject, LongestSubject))
            return OfMoment(d.ComposedAt) ?? (d.Html.Length + d.Text.Length > LongestText ? Implausible("the letter has no end.") : null);
        return Implausible("whom it goes to and what it is about are one line each.");
    }

    private Refused? OfComment(Comment d) =>
        OfHorse(d.HorseId)
        ?? OfMoment(d.At)
        ?? SharingDecider.OfWords(d.Words)
        ?? (archive.Named.Contains(d.Id) ? null : Implausible("no event names this comment."));

    private Refused? OfHorse(Guid id) => archive.Horses.Contains(id) ? null : Implausible($"no event tells of the horse {id}.");

    // The horse may be one that never was: somebody was turned away.
    private Refused? OfAudit(AuditNote d) =>
        OfMoment(d.At)
        ?? (AuditWords.All.Contains(d.What) ? null : Implausible($"'{Short(d.What)}' is nothing that an audit says."))
        ?? (d.Detail is null || OneLine(d.Detail, LongestDetail) ? null : Implausible("its detail is more than a line."));

    private Refused? OfMoment(DateTimeOffset at) => Plausible.Happened(at, now + ClocksApart);

    private static Refused? OfVersion(long version) =>
        version is >= 1 and <= MostVersions ? null : Implausible($"{version} is no version of a document.");

    private static bool OneLine(string text, int longest) => text.Length <= longest && !text.Any(char.IsControl);

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private static Refused Implausible(string why) => new("implausible", why);
}
