using BackHistory.History;

namespace BackHistory.Application.Reminders;

internal static class PlanRefusals
{
    public static readonly Refused NoSuchHorse = new("no-such-horse", "There is no such horse in this practice.", RefusalKind.NotFound);

    public static readonly Refused NotYetEvaluated = new(
        "not-yet-evaluated",
        "This horse has not been looked at yet, so nothing is proposed for it. It is looked at within minutes; then ask again.",
        RefusalKind.Conflict
    );

    public static readonly Refused BookedMeanwhile = new(
        "booked-meanwhile",
        "A visit to this horse is booked already; nothing was changed. Move it under Reminders if it is to be another day.",
        RefusalKind.Conflict
    );
}
