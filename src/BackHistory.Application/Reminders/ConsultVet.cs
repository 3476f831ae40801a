using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Reminders;

/// <summary>A reminder's evidence is sent to a veterinary surgeon of the practice.</summary>
public sealed class ConsultVet(NotifyingCommands commands, PracticeQueries practices) : IAct
{
    private static readonly Refused NoSuchVet = new(
        "no-such-vet",
        "There is no such veterinary surgeon in this practice: add the person first.",
        Place: "personId"
    );

    public static Right Needs => Right.Fit;

    public sealed record Input(Guid ReminderId, Guid VetId);

    public async Task<Outcome> Do(Input ask, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var vet = (await practices.Person(context.Tenant, ask.VetId, ct))?.Role == PersonRole.Veterinarian;
        return await commands.Execute<Reminder>(
            context,
            ask.ReminderId,
            reminder =>
                ReminderRefusals.UnlessShown(reminder, context.Shown)
                ?? (vet ? ReminderDecider.Decide(reminder, new AskVet(ask.VetId, context.Actor), context.Now) : NoSuchVet),
            ct
        );
    }
}
