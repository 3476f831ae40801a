using BackHistory.History.Files;
using BackHistory.History.Horses;

namespace BackHistory.History.Saddles;

/// <summary>Decisions about where a saddle is, what lies under it and what is known of it.</summary>
public static partial class SaddleDecider
{
    public static Decided Decide(Saddle? saddle, MoveSaddle c, Horse? horse, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (c.FromHorseId == c.HorseId || !saddle!.IsOn(c.FromHorseId))
            return SaddleRefusals.NotOnThisHorse;
        if (OnHorse(horse, c.TakenAt, now) is { } bad)
            return bad;
        return TooLong(c.Reason) is { } wordy
            ? wordy
            : Decided.Yes(new SaddleMoved(c.FromHorseId, c.HorseId, Clean(c.Reason), c.TakenAt, c.By));
    }

    public static Decided Decide(Saddle? saddle, BeginTrial c, Horse? horse, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Trials.Any(t => t.TrialId == c.TrialId))
            return SaddleRefusals.TrialExists;
        if (saddle.Trials.Any(t => t.HorseId == c.HorseId && t.Kept is null))
            return SaddleRefusals.OnTrialAlready;
        if (!c.OnBoth && saddle.Trials.Any(t => t.Kept is null))
            return SaddleRefusals.OnTrialElsewhere;
        if (OnHorse(horse, c.TakenAt, now) is { } bad)
            return bad;
        if (c.Until < ZoneClock.EarliestDay(c.TakenAt))
            return Decided.No("bad-date", "A trial cannot end before it begins.", place: "until");
        if (c.Until is { } until && Plausible.Day(until, now) is { } late)
            return late with { Place = "until" };
        return Decided.Yes(new SaddleTrialBegun(c.TrialId, c.HorseId, c.Until, c.TakenAt, c.By));
    }

    public static Decided Decide(Saddle? saddle, EndTrial c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Trials.FirstOrDefault(t => t.TrialId == c.TrialId && t.Kept is null) is not { } trial)
            return SaddleRefusals.NoSuchTrial;
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never;
        return TooLong(c.Reason) is { } wordy
            ? wordy
            : Decided.Yes(new SaddleTrialEnded(c.TrialId, trial.HorseId, c.Kept, Clean(c.Reason), c.TakenAt, c.By));
    }

    /// <summary>It comes off every horse, trials and pads end, and it is the buyer's.</summary>
    public static Decided Decide(Saddle? saddle, SellSaddle c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never;
        var reason = Clean(c.Note) is { } note ? $"Sold: {note}" : "Sold";
        if (TooLong(reason) is { } wordy)
            return wordy with { Place = "note" };
        var events = new List<object>();
        foreach (var trial in saddle!.Trials.Where(t => t.Kept is null))
            events.Add(new SaddleTrialEnded(trial.TrialId, trial.HorseId, false, reason, c.TakenAt, c.By));
        foreach (var pad in saddle.Pads.Where(p => p.Until is null))
            events.Add(new PadRemoved(pad.PadId, pad.HorseId, reason, c.TakenAt, c.By));
        foreach (var horse in saddle.OnHorses())
            events.Add(new SaddleTakenOff(horse, reason, c.TakenAt, c.By));
        if (saddle.OwnerId != c.BuyerId)
            events.Add(new SaddleOwnerChanged(c.BuyerId, c.TakenAt, c.By));
        return events.Count == 0 ? SaddleRefusals.NothingToSell : Decided.Yes(events);
    }

    public static Decided Decide(Saddle? saddle, FitPad c, Horse? horse, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Pads.Any(p => p.PadId == c.PadId))
            return SaddleRefusals.PadExists;
        if (OnHorse(horse, c.TakenAt, now) is { } bad)
            return bad;
        return SaddleRefusals.OfPad(c.Pad, c.Shims) is { } wrong
            ? wrong
            : Decided.Yes(new PadFitted(c.PadId, c.HorseId, c.Pad.Trim(), c.Shims, c.TakenAt, c.By));
    }

    public static Decided Decide(Saddle? saddle, RemovePad c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Pads.FirstOrDefault(p => p.PadId == c.PadId && p.Until is null) is not { } pad)
            return SaddleRefusals.NoSuchPad;
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new PadRemoved(c.PadId, pad.HorseId, c.Reason.Trim(), c.TakenAt, c.By));
    }

    public static Decided Decide(Saddle? saddle, AttachFile c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Files.ContainsKey(c.FileId))
            return FileRefusals.FileExists;
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never;
        if (c.Shows.Count > 50)
            return FileRefusals.TooManyPeople;
        var file = new AttachedFile(c.FileId, c.Kind, c.Bytes.Hash, c.Bytes.MediaType, c.Bytes.Bytes.Length, c.Shows);
        return Decided.Yes(new SaddleFileAttached(file, c.TakenAt, c.By)).With(c.Bytes);
    }

    public static Decided Decide(Saddle? saddle, RemoveFile c, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (saddle!.Files.GetValueOrDefault(c.FileId) is null)
            return FileRefusals.NoSuchFile;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new SaddleFileRemoved(c.FileId, c.Reason.Trim(), now, c.By));
    }

    private static Refused? TooLong(string? reason) =>
        reason?.Length > 400 ? new("long-reason", "Keep the reason under 400 letters.", Place: "reason") : null;

    private static string? Clean(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
