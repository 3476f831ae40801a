using BackHistory.History.Horses;
using BackHistory.History.Practices;

namespace BackHistory.History.Saddles;

/// <summary>Decides what follows from a command about a saddle. Pure.</summary>
public static partial class SaddleDecider
{
    public static Decided Decide(Saddle? saddle, RegisterSaddle c)
    {
        if (saddle is not null)
            return SaddleRefusals.AlreadyRegistered;
        if (SaddleRefusals.OfDetails(c.Details) is { } bad)
            return bad;
        var d = c.Details;
        return Decided.Yes(
            new SaddleRegistered(c.SaddleId, d.Label.Trim(), d.Tree, d.Panel, d.Girthing, d.Gauge, c.OwnerId, c.TakenAt, c.By)
        );
    }

    public static Decided Decide(Saddle? saddle, CorrectSaddle c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (SaddleRefusals.OfDetails(c.Details) is { } bad)
            return bad;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var d = c.Details;
        return Decided.Yes(new SaddleDetailsCorrected(d.Label.Trim(), d.Tree, d.Panel, d.Girthing, d.Gauge, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Saddle? saddle, WithdrawSaddle c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Work.Any(w => !w.Withdrawn))
            return SaddleRefusals.HasWork;
        return HorseRefusals.OfReason(c.Reason) is { } silent ? silent : Decided.Yes(new SaddleWithdrawn(c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Saddle? saddle, ChangeSaddleOwner c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (Plausible.Happened(c.From, now) is { } never)
            return never;
        return saddle!.OwnerId == c.OwnerId
            ? Decided.No("same-owner", "The saddle is this owner's already.", RefusalKind.Conflict)
            : Decided.Yes(new SaddleOwnerChanged(c.OwnerId, c.From, c.By));
    }

    public static Decided Decide(Saddle? saddle, ListParts c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (Plausible.Happened(c.From, now) is { } never)
            return never;
        return SaddleRefusals.OfParts(c.Parts) is { } bad ? bad : Decided.Yes(new SaddlePartsListed(c.Parts, c.From, c.By));
    }

    /// <param name="horse">The horse that the saddle was set for, as it stands; its visit must be one of its own.</param>
    /// <param name="gauges">The practice's, for the marks that the work names; where none are given, marks stay as they are.</param>
    public static Decided Decide(
        Saddle? saddle,
        RecordWork c,
        Horse? horse,
        DateTimeOffset now,
        IReadOnlyDictionary<string, GaugeTable>? gauges = null
    )
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Work.Any(w => w.WorkId == c.WorkId))
            return SaddleRefusals.WorkExists;
        if (OnHorse(horse, c.TakenAt, now) is { } bad)
            return bad;
        if (c.VisitId is { } id && (!horse!.Visits.TryGetValue(id, out var visit) || visit.Withdrawn))
            return HorseRefusals.NoSuchVisit;
        if (SaddleRefusals.OfAdjustments(c.Done) is { } adjustment)
            return adjustment;
        if (gauges is not null && SaddleRefusals.OfMarks(c.Done, gauges) is { } mark)
            return mark;
        if (!c.OnBoth && PutsOn(saddle, c) && saddle.OnHorses().Any())
            return SaddleRefusals.OnAnotherHorse;
        if (c.Flocking is { } flocking && (string.IsNullOrWhiteSpace(flocking.Material) || flocking.Material.Length > 60))
            return Decided.No(
                "no-material",
                "Say with what it was flocked, in up to 60 letters, for example wool.",
                place: "flocking.material"
            );
        return Decided.Yes(EventOf(c));
    }

    public static Decided Decide(
        Saddle? saddle,
        CorrectWork c,
        Horse? horse,
        DateTimeOffset now,
        IReadOnlyDictionary<string, GaugeTable>? gauges = null
    )
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Work.FirstOrDefault(w => w.WorkId == c.WorkId && !w.Withdrawn) is not { } work)
            return SaddleRefusals.NoSuchWork;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var corrected = new SaddleWorkCorrected(c.WorkId, work.HorseId, c.Replacement.WorkId, c.Reason.Trim(), now, c.By);
        var replaced = Decide(Saddle.After(saddle, corrected), c.Replacement, horse, now, gauges);
        return replaced.Refused is { } bad ? bad : Decided.Yes([corrected, .. replaced.Events]);
    }

    public static Decided Decide(Saddle? saddle, WithdrawWork c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Work.FirstOrDefault(w => w.WorkId == c.WorkId && !w.Withdrawn) is not { } work)
            return SaddleRefusals.NoSuchWork;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        return Decided.Yes(new SaddleWorkWithdrawn(c.WorkId, work.HorseId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Saddle? saddle, TakeOff c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (!saddle!.IsOn(c.HorseId))
            return SaddleRefusals.NotOnThisHorse;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        if (c.At is { } at && Plausible.Happened(at, now) is { } never)
            return never;
        return Decided.Yes(new SaddleTakenOff(c.HorseId, c.Reason.Trim(), c.At ?? now, c.By));
    }

    /// <summary>Whether the work brings it into use on a horse on which it is not: late work of a day before it came off does
    /// not.</summary>
    private static bool PutsOn(Saddle saddle, RecordWork c) =>
        !saddle.IsOn(c.HorseId) && !(saddle.TakenOff.TryGetValue(c.HorseId, out var off) && c.TakenAt <= off);

    private static ISaddleWork EventOf(RecordWork c) =>
        c switch
        {
            { Flocking: { } flocking } => new SaddleFlocked(
                c.WorkId,
                c.HorseId,
                c.VisitId,
                flocking.Material.Trim(),
                flocking.Whole,
                c.Done,
                c.TakenAt,
                c.By
            ),
            { Set: true } => new SaddleSet(c.WorkId, c.HorseId, c.VisitId, c.Done, c.Fresh, c.TakenAt, c.By),
            _ => new SaddleAltered(c.WorkId, c.HorseId, c.VisitId, c.Done, c.Fresh, c.TakenAt, c.By),
        };

    /// <summary>Whether something can have been done for this horse at this time.</summary>
    private static Refused? OnHorse(Horse? horse, DateTimeOffset takenAt, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (Plausible.Happened(takenAt, now) is { } never)
            return never;
        return horse!.Foaled is { } born && ZoneClock.LatestDay(takenAt) < born ? HorseRefusals.BeforeBirth(takenAt, born) : null;
    }
}
