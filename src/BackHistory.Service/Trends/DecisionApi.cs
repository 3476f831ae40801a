using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Decisions;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Trends;

/// <summary>The decision over HTTP: as it stands, or made again as of another day or by another version of the rules.</summary>
public static class DecisionApi
{
    private static readonly Refused NotYet = new(
        "not-yet",
        "This horse has not been looked at yet; it will be within a minute.",
        RefusalKind.NotFound
    );

    private static readonly Refused NoSuchVersion = new(
        "no-such-version",
        "The rules never had this version.",
        RefusalKind.NotFound,
        "rulesVersion"
    );

    public static void MapDecision(this IEndpointRouteBuilder api) =>
        api.MapGroup("/horses/{horseId:guid}")
            .WithTags("Measures and trends")
            .MapGet("/decision", Decision)
            .RequireAuthorization(Policies.See)
            .WithSummary("The decision in numbers and in words; with asOf, rulesVersion or before it is made anew from the events");

    private static async Task<IResult> Decision(
        HttpContext http,
        HorseData data,
        PracticeQueries practices,
        Guid horseId,
        DateOnly? asOf,
        int? rulesVersion,
        WatchState? before,
        CancellationToken ct
    )
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await data.Load(tenant, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        if (asOf is null && rulesVersion is null && before is null)
        {
            if (horse.Assessment is not { } stored)
                return Problems.From(NotYet);
            return await practices.AtRules(tenant, stored.RulesVersion, ct) is { } then
                ? Results.Ok(Answer(horseId, stored, then, true))
                : Problems.From(NoSuchVersion);
        }

        if (await practices.AtRules(tenant, rulesVersion ?? horse.Practice.RulesVersion, ct) is not { } rules)
            return Problems.From(NoSuchVersion);
        return Results.Ok(Answer(horseId, Again(horse, rules, asOf ?? horse.Today, before), rules, false));
    }

    /// <summary>From the same events, as far as they were true by then. Pure.</summary>
    private static Assessment Again(HorseRecord horse, History.Practices.Practice rules, DateOnly asOf, WatchState? before)
    {
        var profile = horse.Profile with { Fits = horse.Profile.Fits.RemoveAll(f => horse.Day(f.TakenAt) > asOf) };
        IReadOnlyList<VisitRecord> visits = [.. horse.Visits.Where(v => horse.Day(v.TakenAt) <= asOf)];
        var plain = Assessing.Assess(profile, visits, rules, asOf, profile.Head, null);
        if (before is not { } state)
            return plain;
        var earlier = plain with { Saddles = [.. plain.Saddles.Select(s => s with { Decision = s.Decision with { State = state } })] };
        return Assessing.Assess(profile, visits, rules, asOf, profile.Head, earlier);
    }

    private static DecisionAnswer Answer(Guid horseId, Assessment a, History.Practices.Practice rules, bool stored) =>
        new(
            horseId,
            a.AsOf,
            a.State,
            a.NextCheckDue,
            a.RulesVersion,
            rules.PriorsVersion,
            rules.NoiseVersion,
            stored,
            a.InWords(rules.WatchBy()).Saddles
        );
}
