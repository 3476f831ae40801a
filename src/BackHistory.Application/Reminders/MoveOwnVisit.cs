using System.Globalization;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Whoever a visit was written to chooses another of the times that the practice offers, by the link in the letter.</summary>
public sealed class MoveOwnVisit(NotifyingCommands commands, ReminderQueries reminders, OfferedTimes offered, TimeProvider time) : IAct
{
    /// <summary>The link that stands in the letter is what lets its holder in.</summary>
    public static Right Needs => Right.Hold;

    private static readonly Refused NotOffered = new(
        "not-offered",
        "This time is not free any more. Nothing was changed: choose another.",
        RefusalKind.Conflict
    );

    private static readonly Refused NotBooked = new("not-booked", "No visit is booked for this reminder.", RefusalKind.Conflict);

    /// <param name="PersonId">To whom the letter was; the new date is sent to them.</param>
    public sealed record Input(Guid ReminderId, Guid PersonId, DateTimeOffset To);

    public async Task<Outcome> ByLetter(string practice, Input move, CancellationToken ct)
    {
        if (await reminders.Load(practice, move.ReminderId, ct) is not { BookingId: { } booking } reminder)
            return new Outcome(move.ReminderId, 0, 0, NotBooked);
        var version = reminder.BookingSequence.ToString(CultureInfo.InvariantCulture);
        var key = $"move:{move.ReminderId}:{version}:{move.To.UtcTicks.ToString(CultureInfo.InvariantCulture)}";
        var context = new CommandContext(practice, ReminderPolicy.TheReader, key, "", null, time.GetUtcNow());
        if (await offered.For(practice, reminder, move.PersonId, ct) is not { } times)
            return new Outcome(move.ReminderId, 0, 0, NotBooked);
        // Pressed twice, the second finds it where the first put it.
        if (reminder.BookedFor == move.To)
            return new Outcome(move.ReminderId, reminder.Version, 0, null, Repeated: true);
        if (!times.Contains(move.To))
            return new Outcome(move.ReminderId, 0, 0, NotOffered);
        var command = new BookVisit(booking, move.To, ReminderPolicy.TheReader, move.PersonId, reminder.Fitter);
        return await commands.ExecuteHolding<Reminder>(
            context,
            move.ReminderId,
            async held =>
            {
                // Sold at this moment, the horse's next visit is no longer theirs to move.
                var asked = await FirstReader.OfHorse(held, reminder.HorseId) == move.PersonId;
                return r =>
                    !asked || r is not { State: ReminderState.Booked } ? NotBooked
                    : r.BookingSequence != reminder.BookingSequence ? ReminderRefusals.MovedOn
                    : ReminderDecider.Decide(r, command, context.Now);
            },
            ct
        );
    }
}
