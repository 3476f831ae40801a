using BackHistory.History.Saddles;

namespace BackHistory.History.Profiles;

/// <summary>What the events of saddles mean for one horse's profile.</summary>
internal static class ProfileSaddles
{
    public static HorseProfile Fold(HorseProfile horse, Guid id, Guid saddle, ISaddleOnHorse e) =>
        e switch
        {
            SaddleSet d => Add(horse, new SaddleFit(saddle, d.WorkId, d.VisitId, d.TakenAt, true, d.NewSaddle)),
            SaddleAltered d => Add(horse, new SaddleFit(saddle, d.WorkId, d.VisitId, d.TakenAt, false, d.Reflocked)),
            SaddleFlocked d => Add(
                horse,
                new SaddleFit(saddle, d.WorkId, d.VisitId, d.TakenAt, false, true, Levelled: !d.Whole && d.VisitId is null)
            ),
            SaddleWorkWithdrawn d => horse with { Fits = horse.Fits.RemoveAll(f => f.WorkId == d.WorkId) },
            SaddleWorkCorrected d => horse with { Fits = horse.Fits.RemoveAll(f => f.WorkId == d.WorkId) },
            SaddleTakenOff d => TakeOff(horse, saddle, d.TakenAt),
            SaddleMoved d => d.FromHorseId == id
                ? TakeOff(horse, saddle, d.TakenAt)
                : horse with
                {
                    NotYetSet = horse.NotYetSet.Add(saddle),
                    TakenOff = horse.TakenOff.Remove(saddle),
                },
            SaddleTrialBegun d => horse with { Trials = horse.Trials.Add(new SaddleOnTrial(saddle, d.TrialId, d.TakenAt, d.Until)) },
            SaddleTrialEnded d => EndTrial(horse, saddle, d),
            PadFitted d => horse with { Pads = horse.Pads.Add(new PadUnder(saddle, d.PadId, d.Pad, d.Shims, d.TakenAt)) },
            PadRemoved d => horse with { Pads = horse.Pads.RemoveAll(p => p.PadId == d.PadId) },
            _ => throw UnknownEventException.In(nameof(ProfileSaddles), e),
        };

    private static HorseProfile Add(HorseProfile horse, SaddleFit fit)
    {
        if (horse.TakenOff.TryGetValue(fit.SaddleId, out var off) && fit.TakenAt <= off)
            return horse;
        return horse with
        {
            Fits = horse.Fits.Add(fit),
            TakenOff = horse.TakenOff.Remove(fit.SaddleId),
            NotYetSet = horse.NotYetSet.Remove(fit.SaddleId),
        };
    }

    /// <summary>As the saddle itself has it: kept, it is on the horse from then on.</summary>
    private static HorseProfile EndTrial(HorseProfile horse, Guid saddle, SaddleTrialEnded e)
    {
        var ended = horse with { Trials = horse.Trials.RemoveAll(t => t.TrialId == e.TrialId) };
        var late = horse.TakenOff.TryGetValue(saddle, out var off) && e.TakenAt <= off;
        return !e.Kept || late || horse.NotYetSet.Contains(saddle) || horse.Fits.Any(f => f.SaddleId == saddle)
            ? ended
            : ended with
            {
                NotYetSet = horse.NotYetSet.Add(saddle),
                TakenOff = horse.TakenOff.Remove(saddle),
            };
    }

    private static HorseProfile TakeOff(HorseProfile horse, Guid saddle, DateTimeOffset at) =>
        horse with
        {
            // What was done after that day, though recorded before, stands.
            Fits = horse.Fits.RemoveAll(f => f.SaddleId == saddle && f.TakenAt <= at),
            TakenOff = horse.TakenOff.SetItem(saddle, at),
            NotYetSet = horse.NotYetSet.Remove(saddle),
            Pads = horse.Pads.RemoveAll(p => p.SaddleId == saddle),
        };
}
