using BackHistory.History;
using JasperFx.Events;
using Marten.Events.Aggregation;

namespace BackHistory.Store.Projections;

/// <summary>The state of one stream, folded by the history's own pure function and kept in the transaction of its events.</summary>
/// <typeparam name="T">the state</typeparam>
/// <typeparam name="TEvent">what the events of such a stream are; the store offers those of all streams</typeparam>
internal abstract class StreamState<T, TEvent> : SingleStreamProjection<T, Guid>
    where T : class, IFolded<T>
    where TEvent : IHappened
{
    protected StreamState() => IncludeType<TEvent>();

    public override T? Evolve(T? snapshot, Guid id, IEvent e) =>
        e.Data switch
        {
            TEvent => T.After(snapshot ?? New(id), e.Data),
            IHappened => snapshot,
            _ => throw UnknownEventException.In(typeof(T).Name, e.Data),
        };

    /// <summary>What stands before the first event of a stream whose events do not say which it is.</summary>
    protected virtual T? New(Guid id) => null;
}
