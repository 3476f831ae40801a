using BackHistory.Application.Sharing;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Sharing;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Reminders;

/// <summary>A reminder's evidence is sent to a veterinary surgeon of the practice, with a link that shows them the horse for a
/// while.</summary>
public sealed class ConsultVet(NotifyingCommands commands, SharingWork sharing, ReminderQueries reminders) : IAct
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
        var about = await reminders.Load(context.Tenant, ask.ReminderId, ct);
        var asked = await commands.ExecuteHolding<Reminder>(
            context,
            ask.ReminderId,
            async held =>
            {
                // Streams are held before documents.
                var horse = about is null ? null : await held.Stream<Horse>(about.HorseId);
                var vet = await held.Document<Person>(ask.VetId) is { Role: PersonRole.Veterinarian };
                var no = Consents.OfSharing(horse?.OwnerId is { } owner ? await held.Document<Person>(owner) : null);
                return reminder =>
                {
                    if (ReminderRefusals.UnlessShown(reminder, context.Shown) is { } moved)
                        return Decided.No(moved);
                    var decided = vet
                        ? ReminderDecider.Decide(reminder, new AskVet(ask.VetId, context.Actor), context.Now)
                        : Decided.No(NoSuchVet);
                    return decided.Refused is null && no is not null ? Decided.No(no) : decided;
                };
            },
            ct
        );
        // Repeated after a lost answer, the link may not be there yet.
        if (asked.Refused is null && about is not null)
            await Open(about, ask, by, ct);
        return asked;
    }

    /// <summary>The letter leads to the horse by a link of its own, under the letter's id. A horse that is shared with too many already, or
    /// is no longer here, gets none, and the letter says what it says without it.</summary>
    private async Task Open(Reminder about, Input ask, Caller by, CancellationToken ct)
    {
        if (
            (await reminders.Load(by.Context.Tenant, about.Id, ct))?.Post.LastOrDefault(l =>
                LetterKinds.DefinitionOf(l.Kind).SeesByLink && l.To == ask.VetId
            )
            is not { } letter
        )
            return;
        const SharedWith role = SharedWith.Veterinarian;
        var link = new MakeLink(
            letter.LetterId,
            role,
            ShareDefaults.ScopeOf(role),
            MayComment: true,
            BindsToDevice: false,
            ShareDefaults.DaysOf(role),
            by.Context.Actor
        );
        await sharing.Decide(
            by.Context with
            {
                Key = $"evidence:{letter.LetterId:N}",
                Shown = null,
                ExpectedVersion = null,
            },
            about.HorseId,
            _ => ask.VetId,
            (s, horse, person, today) => SharingDecider.Decide(s, link, horse, person, today, by.Context.Now),
            ct,
            toOthers: true
        );
    }
}
