using System.Security.Cryptography;
using System.Text.Json;
using BackHistory.Application.People;
using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A horse that the practice has not looked after before; with it, where they are new too, its owner and its yard.</summary>
public sealed class EnterHorse(NotifyingCommands commands, AddPerson people, AddYard yards) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="NewOwner">Added first, under <paramref name="OwnerId"/>; null where the owner is known already or not at all.</param>
    /// <param name="NewYard">Added first, under <paramref name="YardId"/>.</param>
    public sealed record Input(
        Guid HorseId,
        HorseDetails Details,
        Guid? OwnerId,
        Guid? YardId,
        PersonDetails? NewOwner = null,
        YardDetails? NewYard = null
    );

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        // Asked before anybody is added: what will be refused leaves nobody behind.
        if (HorseRefusals.OfDetails(given.Details, context.Now) is { } bad)
            return new Outcome(given.HorseId, 0, 0, bad);
        if (given.NewYard?.Problem() is { } badYard)
            return new Outcome(given.HorseId, 0, 0, badYard with { Place = "yard" });
        if (given.NewOwner?.Problem() is { } badOwner)
            return new Outcome(given.HorseId, 0, 0, OfOwner(badOwner));
        if (given is { NewYard: { } yard, YardId: { } yardId })
            if ((await yards.Do(new(yardId, yard), Step(by, "yard", yard), ct)).Refused is { } noYard)
                return new Outcome(given.HorseId, 0, 0, noYard with { Place = "yard" });
        if (given is { NewOwner: { } owner, OwnerId: { } ownerId })
            if ((await people.Do(new(ownerId, owner), Step(by, "owner", owner), ct)).Refused is { } nobody)
                return new Outcome(given.HorseId, 0, 0, OfOwner(nobody));
        return await commands.Execute<Horse>(context, given.HorseId, horse => Decide(horse, given, by), ct);
    }

    private static Refused OfOwner(Refused why) =>
        why with
        {
            Place = why.Place switch
            {
                "email" => "owner-email",
                "phone" => "owner-phone",
                _ => "owner",
            },
        };

    /// <summary>Each step is kept under a key of its own and by its own content: whoever comes again finds what was done, and the same key
    /// with somebody else in it is told.</summary>
    private static Caller Step(Caller by, string step, object what)
    {
        var content = Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(what)));
        return by with { Context = by.Context with { Key = $"{by.Context.Key}:{step}", Fingerprint = content } };
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Horse? horse, Input given, Caller by)
    {
        var (now, actor) = (by.Context.Now, by.Context.Actor);
        return HorseDecider.Decide(horse, new RegisterHorse(given.HorseId, given.Details, given.OwnerId, given.YardId, now, actor), now);
    }
}
