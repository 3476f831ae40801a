using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.Service.Access;
using BackHistory.Service.Trends;
using BackHistory.Service.Web;
using BackHistory.Shape;

namespace BackHistory.Service.Saddles;

/// <summary>What the tracings ask of a saddle, for a qualified fitter, who records what was really done.</summary>
/// <param name="Gauge">Whose marks are named; null when the saddle names no gauge in use.</param>
/// <param name="Caution">Shown where the decision is taken.</param>
public sealed record SettingAnswer(Guid SaddleId, Guid BaselineVisit, Guid VisitId, string Station, string? Gauge, IReadOnlyList<ProposedChange> Changes, IReadOnlyList<string> Unsaid, string Caution);

/// <summary>The proposal for the tree and the panel from the baseline to a visit.</summary>
public static class SettingProposalApi
{
    private const string Caution =
        "A proposal for a qualified fitter. Sudden or one-sided loss, pain, heat, swelling, sores, lameness, or a saddle that slips to one side goes to a veterinary surgeon before any refit.";

    private static readonly Refused NoBaseline = new("no-baseline", "The saddle was never set to this horse, or no visit lies near enough to its setting; name one with since.", Place: "since");

    public static void MapSettingProposal(this IEndpointRouteBuilder api) =>
        api.MapGroup("/horses/{horseId:guid}/visits/{visitId:guid}").WithTags("Saddles")
            .MapGet("/setting", Propose).RequireAuthorization(Policies.See).WithSummary("What the saddle needs since its baseline, in degrees and in the marks of its gauge");

    /// <param name="since">The visit that stands for the shape the saddle is set to; the baseline of the saddle when left out.</param>
    private static async Task<IResult> Propose(
        HttpContext http, HorseData data, SaddleQueries saddles, Guid horseId, Guid visitId, Guid saddleId, Guid? since, string? station, CancellationToken ct)
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await data.Load(tenant, horseId, ct) is not { } horse) return Problems.Of(HorseRefusals.NoSuchHorse);
        if (await saddles.Load(tenant, saddleId, ct) is not { } saddle) return Problems.Of(SaddleRefusals.NoSuchSaddle);
        if (horse.Visits.FirstOrDefault(v => v.Id == visitId && !v.Withdrawn) is not { } now) return Problems.Of(HorseRefusals.NoSuchVisit);
        var baseline = since ?? horse.Assessment?.Saddles.FirstOrDefault(s => s.SaddleId == saddleId)?.BaselineVisit;
        if (horse.Visits.FirstOrDefault(v => v.Id == baseline && !v.Withdrawn) is not { } then) return Problems.Of(NoBaseline);
        var at = station ?? "behind-shoulder";
        var table = saddle.Gauge is { } key && horse.Practice.Gauges.TryGetValue(key, out var known) && !known.Retired ? known : null;
        var rules = horse.Practice.WatchBy();
        var proposal = SettingProposal.Propose(VisitEvidence.Of(then, at, rules), VisitEvidence.Of(now, at, rules), table?.Gauge());
        return Results.Ok(new SettingAnswer(saddleId, then.Id, now.Id, at, table?.Name, proposal.Changes, proposal.Unsaid, Caution));
    }
}
