using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Visits;

internal static class EnteredByApprentices
{
    /// <summary>What an apprentice enters waits for somebody who answers for it.</summary>
    public static Decided Mark(Decided decided, Guid visitId, Caller by) =>
        by.Role == PracticeRole.Apprentice ? HorseDecider.AskingConfirmation(decided, visitId, by.Context.Actor, by.Context.Now) : decided;
}
