using BackHistory.History.Horses;

namespace BackHistory.History.Saddles;

/// <summary>What becomes of a saddle when the horse it was used on turns out to have been registered twice.</summary>
public static partial class SaddleDecider
{
    /// <param name="history">The saddle's events up to this version: work is entered again as it was.</param>
    public static Decided Decide(Saddle? saddle, FollowMerge c, IReadOnlyList<object> history, DateTimeOffset now)
    {
        if (SaddleRefusals.OfSaddle(saddle) is { } gone)
            return gone;
        if (HorseRefusals.OfReason(c.Reason) is { } silent)
            return silent;
        var (from, to, reason) = (c.FromHorseId, c.HorseId, c.Reason.Trim());
        var events = new List<object>();
        foreach (var work in saddle!.Work.Where(w => w.HorseId == from && !w.Withdrawn))
        {
            var again = IdOf(work.WorkId, to);
            events.Add(new SaddleWorkCorrected(work.WorkId, from, again, reason, now, c.By));
            events.Add(Again(history.OfType<ISaddleWork>().First(w => w.WorkId == work.WorkId), again, to));
        }

        foreach (var pad in saddle.Pads.Where(p => p.HorseId == from && p.Until is null))
            events.AddRange([
                new PadRemoved(pad.PadId, from, reason, now, c.By),
                new PadFitted(IdOf(pad.PadId, to), to, pad.Pad, pad.Shims, pad.From, c.By),
            ]);
        foreach (var trial in saddle.Trials.Where(t => t.HorseId == from && t.Kept is null))
            events.AddRange([
                new SaddleTrialEnded(trial.TrialId, from, false, reason, now, c.By),
                new SaddleTrialBegun(IdOf(trial.TrialId, to), to, trial.Until, trial.From, c.By),
            ]);
        if (saddle.NotYetSet.Contains(from))
            events.Add(new SaddleMoved(from, to, reason, now, c.By));
        else if (saddle.TakenOff.TryGetValue(from, out var off) && events.Count > 0)
            events.Add(new SaddleTakenOff(to, reason, off, c.By));
        return Decided.Yes(events).CarryingOver();
    }

    private static ISaddleWork Again(ISaddleWork work, Guid id, Guid horse) =>
        work switch
        {
            SaddleSet d => d with { WorkId = id, HorseId = horse },
            SaddleAltered d => d with { WorkId = id, HorseId = horse },
            SaddleFlocked d => d with { WorkId = id, HorseId = horse },
            _ => throw UnknownEventException.In(nameof(FollowMerge), work),
        };

    private static Guid IdOf(Guid of, Guid horse) => DeterministicId.From("merged", of.ToString(), horse.ToString());
}
