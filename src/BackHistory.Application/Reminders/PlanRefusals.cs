using BackHistory.History;

namespace BackHistory.Application.Reminders;

internal static class PlanRefusals
{
    public static readonly Refused NoSuchHorse = new("no-such-horse", "There is no such horse in this practice.", RefusalKind.NotFound);
}
