using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Events;
using JasperFx.Events;

namespace BackHistory.Store.Projections;

/// <summary>
/// The boundary around what read models compute from one event. Whatever breaks inside becomes a named value of the document that it
/// belongs to: a fold stays pure and total, a rebuild by the same release gives the same document, and one event stops nobody else's.
/// </summary>
internal static class SettingAside
{
    /// <summary>The next state; or, where it cannot be worked out, what <paramref name="aside"/> makes of the fault.</summary>
    public static T Fold<T>(IEvent e, Func<T> next, Func<SetAsideEvent, T> aside)
    {
        try
        {
            return next();
        }
        catch (Exception fault) when (ComputationFault.IsOurs(fault))
        {
            return aside(SetAsideFrom(e, fault));
        }
    }

    private static SetAsideEvent SetAsideFrom(IEvent e, Exception fault) =>
        new(e.Id, e.Sequence, EventAliases.AliasOf(e.Data), e.Timestamp, $"It could not be worked out: {ComputationFault.Words(fault)}.");
}
