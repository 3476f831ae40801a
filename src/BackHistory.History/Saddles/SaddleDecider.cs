using BackHistory.History.Horses;

namespace BackHistory.History.Saddles;

public sealed record SaddleDetails(string Label, string? Tree, string? Panel, string? Girthing, string? Gauge);

public sealed record RegisterSaddle(Guid SaddleId, SaddleDetails Details, Guid? OwnerId, DateTimeOffset TakenAt, Guid By);

public sealed record CorrectSaddle(SaddleDetails Details, string Reason, Guid By);

/// <param name="Fresh">New, or re-flocked: it settles in the first weeks.</param>
public sealed record RecordWork(
    Guid WorkId, Guid HorseId, Guid? VisitId, bool Set, bool Fresh, IReadOnlyList<Adjustment> Done, DateTimeOffset TakenAt, Guid By);

public sealed record WithdrawWork(Guid WorkId, string Reason, Guid By);

public sealed record TakeOff(Guid HorseId, string Reason, Guid By);

/// <summary>Decides what follows from a command about a saddle. Pure.</summary>
public static class SaddleDecider
{
    private static readonly TimeSpan ClockTolerance = TimeSpan.FromMinutes(10);

    public static Decided Decide(Saddle? saddle, RegisterSaddle c)
    {
        if (saddle is not null) return SaddleRefusals.AlreadyRegistered;
        if (SaddleRefusals.OfDetails(c.Details) is { } bad) return bad;
        var d = c.Details;
        return Decided.Yes(new SaddleRegistered(c.SaddleId, d.Label.Trim(), d.Tree, d.Panel, d.Girthing, d.Gauge, c.OwnerId, c.TakenAt, c.By));
    }

    public static Decided Decide(Saddle? saddle, CorrectSaddle c, DateTimeOffset now)
    {
        if (saddle is null) return SaddleRefusals.NoSuchSaddle;
        if (SaddleRefusals.OfDetails(c.Details) is { } bad) return bad;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        var d = c.Details;
        return Decided.Yes(new SaddleDetailsCorrected(d.Label.Trim(), d.Tree, d.Panel, d.Girthing, d.Gauge, c.Reason.Trim(), now, c.By));
    }

    /// <param name="horse">The horse that the saddle was set for, as it stands; its visit must be one of its own.</param>
    public static Decided Decide(Saddle? saddle, RecordWork c, Horse? horse, DateTimeOffset now)
    {
        if (saddle is null) return SaddleRefusals.NoSuchSaddle;
        if (horse is null) return HorseRefusals.NoSuchHorse;
        if (saddle.Work.Any(w => w.WorkId == c.WorkId)) return SaddleRefusals.WorkExists;
        if (c.TakenAt > now + ClockTolerance) return HorseRefusals.InTheFuture(c.TakenAt);
        if (horse.Foaled is { } born && DateOnly.FromDateTime(c.TakenAt.UtcDateTime) < born) return HorseRefusals.BeforeBirth(c.TakenAt, born);
        if (c.VisitId is { } id && (!horse.Visits.TryGetValue(id, out var visit) || visit.Withdrawn)) return HorseRefusals.NoSuchVisit;
        if (SaddleRefusals.OfAdjustments(c.Done) is { } bad) return bad;
        return Decided.Yes(c.Set
            ? new SaddleSet(c.WorkId, c.HorseId, c.VisitId, c.Done, c.Fresh, c.TakenAt, c.By)
            : new SaddleAltered(c.WorkId, c.HorseId, c.VisitId, c.Done, c.Fresh, c.TakenAt, c.By));
    }

    public static Decided Decide(Saddle? saddle, WithdrawWork c, DateTimeOffset now)
    {
        if (saddle is null) return SaddleRefusals.NoSuchSaddle;
        if (saddle.Work.FirstOrDefault(w => w.WorkId == c.WorkId && !w.Withdrawn) is not { } work) return SaddleRefusals.NoSuchWork;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        return Decided.Yes(new SaddleWorkWithdrawn(c.WorkId, work.HorseId, c.Reason.Trim(), now, c.By));
    }

    public static Decided Decide(Saddle? saddle, TakeOff c, DateTimeOffset now)
    {
        if (saddle is null) return SaddleRefusals.NoSuchSaddle;
        if (saddle.TakenOff.Contains(c.HorseId) || saddle.Work.All(w => w.HorseId != c.HorseId)) return SaddleRefusals.NotOnThisHorse;
        if (HorseRefusals.OfReason(c.Reason) is { } silent) return silent;
        return Decided.Yes(new SaddleTakenOff(c.HorseId, c.Reason.Trim(), now, c.By));
    }
}

public static class SaddleRefusals
{
    public static readonly Refused NoSuchSaddle = new("no-such-saddle", "There is no such saddle in this practice.", RefusalKind.NotFound);

    public static readonly Refused NoSuchWork = new("no-such-work", "There is no such work on this saddle, or it was withdrawn already.", RefusalKind.NotFound);

    public static readonly Refused AlreadyRegistered = new("already-registered", "This saddle is registered already.", RefusalKind.Conflict);

    public static readonly Refused WorkExists = new("work-exists", "This work was recorded already.", RefusalKind.Conflict);

    public static readonly Refused NotOnThisHorse = new("not-on-this-horse", "The saddle is not in use on this horse.", RefusalKind.Conflict);

    public static Refused? OfDetails(SaddleDetails d) =>
        string.IsNullOrWhiteSpace(d.Label) || d.Label.Trim().Length > 80
            ? new("no-label", "A saddle needs a label of up to 80 letters, for example its workshop number.", Place: "label")
        : new[] { d.Tree, d.Panel, d.Girthing, d.Gauge }.Any(t => t?.Length > 200)
            ? new("too-long", "Keep each detail under 200 letters.")
        : null;

    public static Refused? OfAdjustments(IReadOnlyList<Adjustment> done)
    {
        if (done.Count > 60) return new("too-many-adjustments", "At most 60 adjustments are recorded at once.");
        for (var i = 0; i < done.Count; i++)
        {
            var a = done[i];
            if (string.IsNullOrWhiteSpace(a.Part) || a.Part.Length > 60 || a.From?.Length > 120 || a.To?.Length > 120)
                return new("bad-adjustment", "Each adjustment names its part in up to 60 letters, and before and after in up to 120.", Place: $"done[{i}]");
            if (a.Side is not (null or "left" or "right"))
                return new("bad-adjustment", "A side is left, right, or left out for both.", Place: $"done[{i}].side");
        }

        return null;
    }
}
