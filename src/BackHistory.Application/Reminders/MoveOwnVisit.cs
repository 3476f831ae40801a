using System.Globalization;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Whoever a visit was written to chooses another of the times that the practice offers, by the link in the letter.</summary>
public sealed class MoveOwnVisit(
    NotifyingCommands commands,
    ReminderQueries reminders,
    OfferedTimes offered,
    VisitReaders readers,
    TimeProvider time
) : IAct
{
    /// <summary>The link that stands in the letter is what lets its holder in.</summary>
    public static Right Needs => Right.Hold;

    private static readonly Refused NotOffered = new(
        "not-offered",
        "This time is not free any more. Nothing was changed: choose another.",
        RefusalKind.Conflict
    );

    /// <param name="PersonId">To whom the letter was; the new date is sent to them.</param>
    public sealed record Input(Guid ReminderId, Guid PersonId, DateTimeOffset To);

    public async Task<Outcome> ByLetter(string practice, Input move, CancellationToken ct)
    {
        if (await reminders.Load(practice, move.ReminderId, ct) is not { BookingId: { } booking } reminder)
            return new Outcome(move.ReminderId, 0, 0, ReminderRefusals.NotBooked);
        var version = reminder.BookingSequence.ToString(CultureInfo.InvariantCulture);
        var key = $"move:{move.ReminderId}:{version}:{move.To.UtcTicks.ToString(CultureInfo.InvariantCulture)}";
        var context = new CommandContext(practice, ReminderPolicy.TheReader, key, "", null, time.GetUtcNow());
        return await commands.ExecuteHolding<Reminder>(
            context,
            move.ReminderId,
            async held =>
            {
                // What is free is asked while nobody else books: somebody may have looked at the same hour.
                await held.Bookings();
                var times = await offered.For(practice, reminder, move.PersonId, ct);
                // Sold at this moment, the horse's next visit is no longer theirs to move.
                var asked = await FirstReader.OfHorse(held, reminder.HorseId) == move.PersonId;
                var told = await readers.Of(held, practice, reminder, move.PersonId, ct);
                var command = new BookVisit(booking, move.To, ReminderPolicy.TheReader, move.PersonId, reminder.Fitter, told);
                return r =>
                    times is null || !asked || r is not { State: ReminderState.Booked } ? ReminderRefusals.NotBooked
                    // Pressed twice, the second finds it where the first put it.
                    : r.BookedFor == move.To ? Decided.Yes()
                    : r.BookingSequence != reminder.BookingSequence ? ReminderRefusals.MovedOn
                    : !times.Contains(move.To) ? NotOffered
                    : ReminderDecider.Decide(r, command, context.Now);
            },
            ct
        );
    }
}
