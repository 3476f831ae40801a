using BackHistory.Application.Files;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A photograph or a document of a horse, or of one of its visits.</summary>
public sealed class AttachHorseFile(NotifyingCommands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid HorseId, NewFile File);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.ExecuteHolding<Horse>(
            context,
            given.HorseId,
            async held =>
            {
                var no = given.File.Kind == FileKind.Photograph ? Consents.OfPhotograph(await Asked(held, given, context, ct)) : null;
                return horse =>
                {
                    var decided = HorseDecider.Decide(horse, given.File.Command(context), context.Now);
                    return decided.Refused is null && no is not null ? Decided.No(no) : decided;
                };
            },
            ct
        );
    }

    /// <summary>Whose horse it is, and whoever can be seen.</summary>
    private async Task<IReadOnlyList<Person>> Asked(Held held, Input given, CommandContext context, CancellationToken ct)
    {
        var owner = (await horses.Load(context.Tenant, given.HorseId, ct))?.OwnerId;
        var people = new List<Person>();
        foreach (var id in given.File.Shows.Append(owner ?? Guid.Empty).Where(id => id != Guid.Empty).Distinct().Order())
            if (await held.Document<Person>(id) is { } person)
                people.Add(person);
        return people;
    }
}
