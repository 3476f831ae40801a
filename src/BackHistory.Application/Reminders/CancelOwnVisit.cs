using System.Globalization;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>Whoever a visit was written to cancels it, by the link in the letter. What it was booked for is open again, with their
/// answer.</summary>
public sealed class CancelOwnVisit(NotifyingCommands commands, ReminderQueries reminders, VisitReaders readers, TimeProvider time) : IAct
{
    /// <summary>The link that stands in the letter is what lets its holder in.</summary>
    public static Right Needs => Right.Hold;

    /// <param name="PersonId">To whom the letter was.</param>
    /// <param name="Words">Why, or what would suit them.</param>
    public sealed record Input(Guid ReminderId, Guid PersonId, string? Words);

    public async Task<Outcome> ByLetter(string practice, Input cancel, CancellationToken ct)
    {
        if (await reminders.Load(practice, cancel.ReminderId, ct) is not { } reminder)
            return new Outcome(cancel.ReminderId, 0, 0, ReminderRefusals.NotBooked);
        // Pressed twice, it was cancelled by the first.
        if (reminder is { Answer: Answer.Cancelled, BookedFor: null })
            return new Outcome(cancel.ReminderId, reminder.Version, 0, null, Repeated: true);
        var key = $"cancel:{cancel.ReminderId}:{reminder.BookingSequence.ToString(CultureInfo.InvariantCulture)}";
        var context = new CommandContext(practice, ReminderPolicy.TheReader, key, "", null, time.GetUtcNow());
        return await commands.ExecuteHolding<Reminder>(
            context,
            cancel.ReminderId,
            async held =>
            {
                await held.Bookings();
                // Sold at this moment, the horse's next visit is no longer theirs to cancel.
                var asked = await FirstReader.OfHorse(held, reminder.HorseId) == cancel.PersonId;
                var told = await readers.Of(held, practice, reminder, cancel.PersonId, ct);
                var words = string.IsNullOrWhiteSpace(cancel.Words) ? null : cancel.Words;
                var command = new CancelOwnBooking(words, ReminderPolicy.TheReader, cancel.PersonId, told);
                return r =>
                    !asked ? ReminderRefusals.NotBooked
                    : r?.BookingSequence != reminder.BookingSequence ? ReminderRefusals.MovedOn
                    : ReminderDecider.Decide(r, command, context.Now);
            },
            ct
        );
    }
}
