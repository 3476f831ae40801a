using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Saddles;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Reminders;
using BackHistory.Store.Saddles;

namespace BackHistory.Service.Saddles;

/// <summary>What the latest tracing asks of a saddle, in the marks of its gauge. A proposal: the fitter records what was really
/// done.</summary>
public sealed class SaddleProposals(HorseData data, SaddleQueries saddles, ReminderQueries reminders)
{
    /// <summary>A tree is set to the back where its points lie.</summary>
    internal static string StationOf(HorseRecord horse) => Protocols.UsualOf(horse.Practice.Stations);

    /// <returns>Null when there is no such saddle, no such horse, or the saddle never was on it.</returns>
    internal async Task<SaddleProposal?> Load(string practice, Guid saddleId, Guid horseId, CancellationToken ct)
    {
        if (
            await saddles.Load(practice, saddleId, ct) is not { Withdrawn: false } saddle
            || await data.Load(practice, horseId, ct) is not { } horse
        )
            return null;
        return saddle.IsOn(horseId) || saddle.Work.Any(w => w.HorseId == horseId)
            ? await WithCaution(practice, Propose(saddle, horse), ct)
            : null;
    }

    /// <summary>The same for visits and a station that the asker names.</summary>
    /// <param name="visit">The visit to set the saddle to; the latest with a tracing there when null.</param>
    /// <param name="since">The visit that stands for the shape it is set to, also for a saddle that was never on the horse; the baseline
    /// when null.</param>
    internal async Task<(SaddleProposal? Found, Refused? No)> Load(
        string practice,
        Guid saddleId,
        Guid horseId,
        Guid? visit,
        Guid? since,
        string? station,
        CancellationToken ct
    )
    {
        if (
            await saddles.Load(practice, saddleId, ct) is not { Withdrawn: false } saddle
            || await data.Load(practice, horseId, ct) is not { } horse
        )
            return (null, NoSuchFit);
        foreach (var named in new[] { visit, since })
            if (named is { } id && !horse.Visits.Any(v => v.Id == id && !v.Withdrawn))
                return (null, HorseRefusals.NoSuchVisit);
        if (since is null && !saddle.IsOn(horseId) && !saddle.Work.Any(w => w.HorseId == horseId))
            return (null, NoSuchFit);
        return (await WithCaution(practice, Propose(saddle, horse, station, visit, since), ct), null);
    }

    private async Task<SaddleProposal> WithCaution(string practice, SaddleProposal p, CancellationToken ct) =>
        p with
        {
            Caution = ReminderPolicy.StandingCaution(await reminders.OfHorse(practice, p.Horse.Profile.Id, ct)),
        };

    internal static readonly Refused NoSuchFit = new(
        "no-such-fit",
        "There is no such saddle on that horse in this practice.",
        RefusalKind.NotFound
    );

    private static SaddleProposal Propose(Saddle saddle, HorseRecord horse, string? at = null, Guid? visit = null, Guid? since = null)
    {
        var station = at ?? StationOf(horse);
        var work = saddle.Work.Where(w => w.HorseId == horse.Profile.Id && !w.Withdrawn).MaxBy(w => w.TakenAt);
        var traced = horse
            .Visits.Where(v =>
                !v.Withdrawn
                && v.Standing()
                    .Any(m => m.Station == station && m.Value is not null && TreePart.Slopes.Contains(m.Key, StringComparer.Ordinal))
            )
            .ToList();
        var baselineId = since ?? horse.Assessment?.Saddles.FirstOrDefault(s => s.SaddleId == saddle.Id)?.BaselineVisit ?? work?.VisitId;
        var baseline = traced.FirstOrDefault(v => v.Id == baselineId);
        var now = visit is { } named ? traced.FirstOrDefault(v => v.Id == named) : traced.MaxBy(v => v.TakenAt);
        var gauge = saddle.Gauge is { } key && horse.Practice.Gauges.TryGetValue(key, out var table) && !table.Retired ? table : null;
        var stands = new Standing(LastMark(saddle, horse.Profile.Id, "left"), LastMark(saddle, horse.Profile.Id, "right"));
        if (baseline is null || now is null)
            return new SaddleProposal(saddle, horse, gauge, work, baseline, now, stands, null);
        var scale = gauge?.Gauge();
        var setAt =
            scale is not null && GaugeText.Position(scale, stands.Left) is { } l && GaugeText.Position(scale, stands.Right) is { } r
                ? (l, r)
                : ((double, double)?)null;
        var rules = horse.Practice.WatchBy();
        var proposal = SettingProposal.Propose(
            VisitEvidence.EvidenceFrom(baseline, station, rules),
            VisitEvidence.EvidenceFrom(now, station, rules),
            scale,
            setAt
        );
        return new SaddleProposal(saddle, horse, gauge, work, baseline, now, stands, proposal);
    }

    /// <summary>Where the tree was left, by the last work that says so.</summary>
    private static string? LastMark(Saddle saddle, Guid horseId, string side) =>
        saddle
            .Work.Where(w => w.HorseId == horseId && !w.Withdrawn)
            .OrderBy(w => w.TakenAt)
            .SelectMany(w => w.Done)
            .LastOrDefault(a => a.Part == "tree" && (a.Side == side || a.Side is null))
            ?.To;
}
