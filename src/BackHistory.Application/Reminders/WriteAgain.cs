using BackHistory.History;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>A reminder's first reader is written to once more.</summary>
public sealed class WriteAgain(NotifyingCommands commands, FirstReader first) : IAct
{
    private static readonly Refused NoReader = new(
        "no-reader",
        "The horse has no owner and the practice no manager: there is nobody to write to.",
        RefusalKind.Conflict
    );

    public static Right Needs => Right.Fit;

    /// <param name="EvenSo">Also where such a letter went to them within the hour; otherwise that is refused, so that it can be
    /// asked.</param>
    public sealed record Input(Guid ReminderId, bool EvenSo = true);

    public async Task<Outcome> Do(Input again, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return await commands.ExecuteHolding<Reminder>(
            context,
            again.ReminderId,
            async held =>
            {
                var reader = await first.OfFinding(held, context.Tenant, again.ReminderId, ct);
                return reminder =>
                    ReminderRefusals.UnlessShown(reminder, context.Shown)
                    ?? (
                        reader is { } to
                            ? ReminderDecider.Decide(reminder, new TellAgain(to, context.Actor, again.EvenSo), context.Now)
                            : NoReader
                    );
            },
            ct
        );
    }
}
