using BackHistory.Application.People;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Horses;

/// <summary>The microchip and the passport by which a horse is told from every other; an empty field erases what stood in it.</summary>
public sealed class IdentifyHorse(Commands commands, HorseQueries horses) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="Erase">Further numbers, of registrations that were merged into this one, that are known no more.</param>
    public sealed record Input(Guid HorseId, string? Microchip, string? Passport, IReadOnlyList<string>? Erase = null);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var c = by.Context;
        if (await horses.Load(c.Tenant, input.HorseId, ct) is not { } horse)
            return new Outcome(input.HorseId, 0, 0, HorseRefusals.NoSuchHorse);
        // What is known goes on in the other; a withdrawn one's numbers can still be erased.
        if (horse.MergedInto is { } into)
            return new Outcome(input.HorseId, 0, 0, HorseRefusals.MergedAway(into));
        var said = new HorseIdentity(horse.Id)
        {
            Microchip = HorseIdentity.Plain(input.Microchip),
            Passport = HorseIdentity.Plain(input.Passport),
        };
        if (said.Problem() is { } bad)
            return new Outcome(horse.Id, 0, 0, bad);
        return await commands.ExecuteOnDocument<HorseIdentity>(
            c,
            horse.Id,
            async held =>
            {
                var other = await held.SameNumber(said);
                return found =>
                    other is { } taken ? new DecidedDocument<HorseIdentity>(Taken(taken)) : Decide(found, said, input.Erase ?? [], by);
            },
            ct
        );
    }

    private static Refused Taken((string Name, bool ByChip) other) =>
        new(
            "identity-taken",
            $"{other.Name} has this number already. Nothing was saved: read it again, or merge the two if they are one horse.",
            RefusalKind.Conflict,
            other.ByChip ? "microchip" : "passport"
        );

    private static DecidedDocument<HorseIdentity> Decide(HorseIdentity? found, HorseIdentity said, IReadOnlyList<string> erase, Caller by)
    {
        var before = found ?? new HorseIdentity(said.Id);
        var after = before with { Microchip = said.Microchip, Passport = said.Passport };
        // One that is typed into a field of its own is no further one.
        string?[] gone = [.. erase, said.Microchip, said.Passport];
        after = after with { Further = before.Further.RemoveAll(n => gone.Contains(n, StringComparer.Ordinal)) };
        var changed = ChangedDetails.Between(before, after, Details);
        if (changed.Count == 0)
            return new DecidedDocument<HorseIdentity>(before, null);
        var note = by.Note(AuditWords.IdentityChanged, said.Id, changed) with { HorseId = said.Id };
        return new DecidedDocument<HorseIdentity>(after, note);
    }

    private static readonly (string Name, Func<HorseIdentity, object?> Value)[] Details =
    [
        ("microchip", i => i.Microchip),
        ("passport", i => i.Passport),
        ("further numbers", i => string.Join(' ', i.Further)),
    ];
}
