using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>What people do about a reminder, the same from the API and from the page. Each answers with what the decider is to be
/// asked.</summary>
public sealed class ReminderActions(ReminderQueries reminders, HorseQueries horses, PracticeQueries practices)
{
    private static readonly Refused NoReader = new(
        "no-reader",
        "The horse has no owner and the practice no manager: there is nobody to write to.",
        RefusalKind.Conflict
    );

    private static readonly Refused NoSuchFitter = new("no-such-fitter", "There is no such fitter in this practice.", Place: "fitterId");

    private static readonly Refused NoSuchVet = new(
        "no-such-vet",
        "There is no such veterinary surgeon in this practice: add the person first.",
        Place: "personId"
    );

    public async Task<Asked> PutOff(string practice, PutOffRequest r, CancellationToken ct)
    {
        var zone = await Zone(practice, ct);
        return Asked.To(
            (reminder, c) =>
                ReminderDecider.Decide(
                    reminder,
                    new PutOffReminder(r.Until, r.Reason ?? "", c.Actor),
                    PracticeClock.Day(c.Now, zone),
                    c.Now
                )
        );
    }

    public async Task<Asked> Book(string practice, Guid reminderId, Guid booking, BookRequest r, CancellationToken ct)
    {
        if (r.FitterId is { } fitter && (await practices.Person(practice, fitter, ct))?.Role != PersonRole.Fitter)
            return Asked.No(NoSuchFitter);
        var tell = r.Tell ? await Reader(practice, reminderId, ct) : null;
        return Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new BookVisit(booking, r.For, c.Actor, tell, r.FitterId), c.Now));
    }

    public async Task<Asked> CancelBooking(string practice, Guid reminderId, CancelBookingRequest r, CancellationToken ct)
    {
        var tell = r.Tell ? await Reader(practice, reminderId, ct) : null;
        return Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new CancelBooking(r.Reason ?? "", c.Actor, tell), c.Now));
    }

    public static Asked Close(CloseRequest r) =>
        Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new CloseReminder(r.Reason ?? "", c.Actor), c.Now));

    /// <summary>Somebody says that what it asks for was done, though no visit or work is on record.</summary>
    public static Asked Done() =>
        Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new ResolveReminder(null, null, c.Actor), c.Now));

    /// <summary>Somebody says that the veterinary surgeon has cleared the horse.</summary>
    public static Asked VetCleared() => Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new ClearByVet(c.Actor), c.Now));

    public async Task<Asked> TellAgain(string practice, Guid reminderId, CancellationToken ct) =>
        await Reader(practice, reminderId, ct) is { } reader
            ? Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new TellAgain(reader, c.Actor), c.Now))
            : Asked.No(NoReader);

    public async Task<Asked> AskVet(string practice, AskVetRequest r, CancellationToken ct) =>
        (await practices.Person(practice, r.PersonId, ct))?.Role == PersonRole.Veterinarian
            ? Asked.To((reminder, c) => ReminderDecider.Decide(reminder, new AskVet(r.PersonId, c.Actor), c.Now))
            : Asked.No(NoSuchVet);

    /// <summary>Who hears of a horse first: its owner, or the manager where it has none.</summary>
    public async Task<Guid?> ReaderOf(string practice, Guid? ownerId, CancellationToken ct) =>
        ownerId ?? (await practices.InRole(practice, PersonRole.Manager, ct)).Select(p => (Guid?)p.Id).Order().FirstOrDefault();

    private async Task<Guid?> Reader(string practice, Guid reminderId, CancellationToken ct)
    {
        if (await reminders.Load(practice, reminderId, ct) is not { } reminder)
            return null;
        return await ReaderOf(practice, (await horses.Profile(practice, reminder.HorseId, ct))?.OwnerId, ct);
    }

    private async Task<TimeZoneInfo> Zone(string practice, CancellationToken ct) =>
        TimeZoneInfo.FindSystemTimeZoneById((await practices.Load(practice, ct))?.TimeZone ?? "Etc/UTC");
}

/// <summary>What a decider is to be asked, or why it need not be.</summary>
public readonly record struct Asked(Func<Reminder?, CommandContext, Decided> Decide)
{
    public static Asked To(Func<Reminder?, CommandContext, Decided> decide) => new(decide);

    public static Asked No(Refused refused) => new((_, _) => refused);
}
