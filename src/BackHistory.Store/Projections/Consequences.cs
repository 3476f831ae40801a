using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Events;
using JasperFx.Events;

namespace BackHistory.Store.Projections;

/// <summary>
/// What follows from events, worked out before they are recorded: that they can be written, and that every read model which folds one event
/// by itself can. An event whose consequences cannot be computed is refused while whoever entered it is still there; the history takes
/// nothing back.
/// </summary>
internal static class Consequences
{
    /// <param name="measured">Where what its tracings measure is kept for the read models.</param>
    /// <returns>Why the decision cannot be carried out; null when everything that follows from it can be worked out.</returns>
    public static Refused? Problem(Decided decided, Guid stream, MeasuredTracings measured)
    {
        // A file's bytes are no JSON.
        foreach (var stored in decided.Events.Concat(decided.SideDocuments.Where(b => b is not FileBytes)))
            if (StoredText.ProblemOf(stored) is { } unwritable)
                return unwritable;
        // What was recorded before is carried over as it stands: refusing it now would strand the rest of that horse's history.
        if (decided.CarriesOver)
            return null;
        var measure = measured.Having(decided.Fits);
        var why = decided.Events.Select(e => OfOne(Wrapped(e, stream), measure)).FirstOrDefault(problem => problem is not null);
        return why is null ? null : new Refused("not-computable", $"{why} Nothing was saved; look at what was entered.");
    }

    private static string? OfOne(IEvent e, Measuring measure)
    {
        if (e.Data is IVisitEvent v)
        {
            var known = e.Data is VisitRecorded ? null : new VisitRecord { Id = v.VisitId, HorseId = e.StreamId };
            if (VisitRecordProjection.Fold(known, e, measure) is { NotWhole: true } visit)
                return visit.Entries.Find(x => x.SetAside is not null)?.SetAside ?? visit.SetAside![0].Why;
        }

        if (HorseOf(e) is not { } id)
            return null;
        var profile = HorseProfileProjection.Fold(e.Data is HorseRegistered ? null : new HorseProfile { Id = id }, id, e);
        return profile is { SetAside: [var aside, ..] } ? aside.Why : TimelineProjection.EntryFor(e.Id, e)?.SetAside;
    }

    /// <summary>The horse in whose read models the event is folded by itself; null where in none.</summary>
    internal static Guid? HorseOf(IEvent e) =>
        e.Data switch
        {
            IHorseEvent => e.StreamId,
            ISaddleOnHorse d => d.HorseId,
            IReminderEvent d => d.HorseId,
            ISaddleEvent or IPracticeEvent or IDigestEvent or ISharingEvent => null,
            _ => throw UnknownEventException.In(nameof(Consequences), e.Data),
        };

    private static IEvent Wrapped(object data, Guid stream)
    {
        var e = (IEvent)Activator.CreateInstance(typeof(Event<>).MakeGenericType(data.GetType()), data)!;
        e.StreamId = stream;
        return e;
    }
}
