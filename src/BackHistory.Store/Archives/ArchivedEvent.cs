using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Events;
using JasperFx.Events;

namespace BackHistory.Store.Archives;

/// <summary>An event as other software reads it: a line of an archive, an item of the change feed.</summary>
/// <param name="Position">Its place: in an archive counted from 1, in the feed the store's own.</param>
/// <param name="Of">Whose history it stands in: horse, saddle, reminder, practice, digest or sharing.</param>
/// <param name="Version">Its place in that history, from 1.</param>
/// <param name="Type">Its alias, which names the version of its shape; the schema of this name describes <paramref name="Data"/>.</param>
/// <param name="RecordedAt">The store's clock; when it was true stands in the data as <c>takenAt</c>.</param>
/// <param name="RecordedBy">Who typed it in.</param>
/// <param name="Command">The key of the command that it followed from: events of one command are one act.</param>
public sealed record ArchivedEvent(
    long Position,
    Guid Id,
    Guid Stream,
    string Of,
    long Version,
    string Type,
    DateTimeOffset RecordedAt,
    string? RecordedBy,
    string? Command,
    JsonElement Data
)
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    internal static ArchivedEvent From(IEvent e) =>
        new(
            e.Sequence,
            e.Id,
            e.StreamId,
            OfWhat(e.Data),
            e.Version,
            EventAliases.AliasOf(e.Data),
            e.Timestamp,
            e.UserName,
            e.CausationId,
            JsonSerializer.SerializeToElement(e.Data, e.Data.GetType(), Json)
        );

    internal static string OfWhat(object e) =>
        e switch
        {
            IHorseEvent => "horse",
            ISaddleEvent => "saddle",
            IReminderEvent => "reminder",
            IPracticeEvent => "practice",
            IDigestEvent => "bulletin",
            ISharingEvent => "sharing",
            _ => throw new ArgumentException($"{e.GetType().Name} stands in no history", nameof(e)),
        };
}
