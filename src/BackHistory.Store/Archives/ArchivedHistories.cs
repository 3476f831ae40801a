using System.Globalization;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;

namespace BackHistory.Store.Archives;

/// <summary>
/// The histories of an archive, folded as its lines come and before any is kept: whether each begins with its beginning and goes on
/// without a gap, whether no line stands there twice, and whether all of what they name is there.
/// </summary>
/// <param name="here">The histories that the practice has already.</param>
/// <param name="founded">The practice's own history, with which the archive's goes on; null where there is none.</param>
internal sealed class ArchivedHistories(IReadOnlySet<Guid> here, Guid? founded)
{
    private sealed record One(string Of, long Version, object? State);

    private readonly Dictionary<Guid, One> _all = [];
    private readonly HashSet<Guid> _events = [];
    private readonly HashSet<Guid> _named = [];
    private readonly HashSet<string> _files = new(StringComparer.Ordinal);
    private Guid? _practice;
    private (int Line, string Type, string Why)? _leadsOut;
    private long _lines;

    /// <summary>Takes the next line in.</summary>
    /// <returns>Why it cannot stand there; null when it can.</returns>
    public string? Take(int line, ArchivedEvent e, object data)
    {
        if (e.Position != ++_lines)
            return Say($"it says place {e.Position} and is event {_lines}: lines are missing, doubled or out of order.");
        if (e.Id == Guid.Empty || e.Stream == Guid.Empty)
            return "it has no id, or names no history.";
        if (!_events.Add(e.Id))
            return $"the event {e.Id} stands there twice.";
        var of = ArchivedEvent.OfWhat(data);
        if (e.Of != of)
            return $"it stands in the history of a {of}, and says '{e.Of}'.";
        var before = _all.GetValueOrDefault(e.Stream);
        if (before is not null && before.Of != of)
            return $"the history {e.Stream} was that of a {before.Of}.";
        if (e.Version != (before?.Version ?? 0) + 1)
            return Say($"it is version {e.Version} of the {of} {e.Stream}, of which {before?.Version ?? 0} came before it.");
        var why = OfBeginning(e, data, before) ?? OfFold(e, data, before) ?? OfWhatItNames(line, e, data);
        if (why is not null)
            return why;
        Collect(e.Data);
        return null;
    }

    private string? OfBeginning(ArchivedEvent e, object data, One? before)
    {
        if (before is null && e.Of == "practice" && _practice is not null)
            return "a second practice begins.";
        if (before is null && here.Contains(e.Stream) && !(e.Of == "practice" && founded is not null))
            return $"the {e.Of} {e.Stream} is in this practice already, which is not empty.";
        if (before is null && e.Of != "practice" && e.Stream == founded)
            return $"{e.Stream} is this practice itself.";
        // Who may look at a horse begins with whatever is done about it first.
        if (data is ISharingEvent sharing)
            return e.Stream == HorseSharing.IdOf(sharing.HorseId)
                ? null
                : $"it is about the horse {sharing.HorseId}, and stands elsewhere.";
        if (data is IDigestEvent digest && digest.DigestId != e.Stream)
            return $"it is about the digest {digest.DigestId}, and stands elsewhere.";
        Guid? begins = data switch
        {
            HorseRegistered d => d.HorseId,
            SaddleRegistered d => d.SaddleId,
            ReminderRaised d => d.ReminderId,
            DigestOwed d => d.DigestId,
            PracticeFounded d => d.PracticeId,
            _ => null,
        };
        return (begins, before) switch
        {
            (null, null) => $"the {e.Of} {e.Stream} begins with it, and nothing does.",
            ({ }, { }) => $"the {e.Of} {e.Stream} begins a second time.",
            ({ } id, null) when id != e.Stream => $"the {e.Of} {id} begins in the history {e.Stream}.",
            _ => null,
        };
    }

    private string? OfFold(ArchivedEvent e, object data, One? before)
    {
        if (data is IVisitEvent visit && before?.State is Horse horse && horse.Visits.ContainsKey(visit.VisitId) == data is VisitRecorded)
            return data is VisitRecorded
                ? $"the visit {visit.VisitId} is recorded a second time."
                : $"of the visit {visit.VisitId} no line before it tells.";
        var state = After(before?.State, data);
        _all[e.Stream] = new One(e.Of, e.Version, state);
        if (e.Of == "practice")
            _practice = e.Stream;
        return state is null ? $"nothing follows from it for the {e.Of} {e.Stream}." : null;
    }

    private static object? After(object? before, object data) =>
        data switch
        {
            IHorseEvent => Horse.After((Horse?)before, data),
            ISaddleEvent => Saddle.After((Saddle?)before, data),
            IReminderEvent => Reminder.After((Reminder?)before, data),
            IPracticeEvent => Practice.After((Practice?)before, data),
            IDigestEvent => Digest.After((Digest?)before, data),
            ISharingEvent => HorseSharing.After((HorseSharing?)before, data),
            _ => throw UnknownEventException.In(nameof(ArchivedHistories), data),
        };

    /// <summary>Whether the histories that it names have begun.</summary>
    private string? OfWhatItNames(int line, ArchivedEvent e, object data)
    {
        foreach (var (of, id, mayLeadOut) in Named(data))
        {
            if (id == Guid.Empty || _all.GetValueOrDefault(id)?.Of == of)
                continue;
            var why = $"it names the {of} {id}, of which no line before it tells.";
            if (!mayLeadOut)
                return why;
            _leadsOut ??= (line, e.Type, why);
        }

        return null;
    }

    /// <summary>The last says that an archive of one horse names it without holding it: another horse under the same saddle.</summary>
    private static IEnumerable<(string Of, Guid Id, bool MayLeadOut)> Named(object data)
    {
        switch (data)
        {
            case HorseMerged d:
                yield return ("horse", d.DuplicateId, false);
                break;
            case HorseMergedAway d:
                yield return ("horse", d.IntoId, true);
                break;
            case SharingMerged d:
                yield return ("horse", d.DuplicateId, false);
                break;
            case SharingMergedAway d:
                yield return ("horse", d.IntoId, true);
                break;
            case SaddleMoved d:
                yield return ("horse", d.FromHorseId, true);
                break;
            case ReminderRaised { SaddleId: { } saddle }:
                yield return ("saddle", saddle, true);
                break;
            case ReminderMuted { CoveredBy: { } reminder }:
                yield return ("reminder", reminder, false);
                break;
            case RepeatedVisitCounted d:
                yield return ("horse", d.HorseId, false);
                break;
        }

        if (data is ISaddleOnHorse on)
            yield return ("horse", on.HorseId, true);
        if (data is IReminderEvent about)
            yield return ("horse", about.HorseId, false);
        if (data is ISharingEvent of)
            yield return ("horse", of.HorseId, false);
    }

    private void Collect(JsonElement data)
    {
        switch (data.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var part in data.EnumerateObject())
                {
                    if (part.NameEquals("contentHash") && part.Value.ValueKind == JsonValueKind.String)
                        _files.Add(part.Value.GetString()!);
                    Collect(part.Value);
                }

                break;
            case JsonValueKind.Array:
                foreach (var item in data.EnumerateArray())
                    Collect(item);
                break;
            case JsonValueKind.String when data.TryGetGuid(out var id):
                _named.Add(id);
                break;
        }
    }

    /// <summary>The whole practice holds all that it names; one horse's archive holds no practice.</summary>
    public (int Line, string Type, string Why)? LeadsOut => _practice is null ? null : _leadsOut;

    public JudgedArchive Whole()
    {
        var letters = new Dictionary<Guid, bool>();
        foreach (var (id, one) in _all)
        {
            if (one.State is Digest digest)
                letters[id] = IsOwed(digest.State);
            if (one.State is Reminder reminder)
                foreach (var (letter, state) in reminder.Letters)
                    letters[letter] = IsOwed(state);
        }

        return new JudgedArchive(
            _lines,
            _all.Where(s => s.Value.Of == "horse").Select(s => s.Key).ToHashSet(),
            letters,
            _named,
            _files,
            _practice is { } practice && _all[practice].State is Practice { Erased: var erased } ? erased : new HashSet<Guid>()
        );
    }

    private static bool IsOwed(LetterState state) => state is LetterState.Owed or LetterState.Deferred;

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
