using JasperFx.Events;

namespace BackHistory.Store.Events;

/// <summary>Events as they were decided, whatever stream they stand in.</summary>
internal static class WrittenEvents
{
    /// <summary>The name under which the event library fills the numbers that a failed transaction took. Such a row stands in no
    /// history.</summary>
    internal const string Filler = "tombstone";

#pragma warning disable RS0030 // Here, and nowhere else.
    /// <summary>All events of the session's practice without the library's fillers.</summary>
    internal static IQueryable<IEvent> QueryWritten(this Marten.Events.IQueryEventStore events) =>
        events.QueryAllRawEvents().Where(e => e.EventTypeName != Filler);
#pragma warning restore RS0030
}
