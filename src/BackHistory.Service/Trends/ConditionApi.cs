using BackHistory.Application.Trends;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Reports.Charts;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Trends;

/// <summary>The veterinary view over HTTP.</summary>
public static class ConditionApi
{
    public static void MapCondition(this IEndpointRouteBuilder api)
    {
        var horse = api.MapGroup("/horses/{horseId:guid}").WithTags("Measures and trends");
        horse
            .MapGet("/condition", Condition)
            .RequireAuthorization(Policies.See)
            .WithSummary(
                "Half areas, fill, half volumes, topline drop, weight and condition over time, with work, lay-offs, illness and saddle "
                    + "work; whether the sides have parted, and since when"
            );
        horse
            .MapGet("/charts/condition.{form}", Chart)
            .RequireAuthorization(Policies.See)
            .WithSummary("The same on one time axis, as a picture");
    }

    private static async Task<IResult> Condition(HttpContext http, HorseData data, HorseQueries horses, Guid horseId, CancellationToken ct)
    {
        var practice = SignedIn.From(http.User).Practice;
        return await data.Load(practice, horseId, ct) is { } horse
            ? Results.Ok(HorseCondition.From(await HalfVolumes.AddTo(horse, horses, practice, ct)))
            : Problems.From(HorseRefusals.NoSuchHorse);
    }

    private static async Task<IResult> Chart(
        HttpContext http,
        HorseData data,
        HorseQueries horses,
        Guid horseId,
        string form,
        string? station,
        string? theme,
        int? width,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await data.Load(practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var at = station ?? Protocols.UsualOf(horse.Practice.Stations);
        if (HorseCondition.Chart(await HalfVolumes.AddTo(horse, horses, practice, ct), at) is not { } input)
            return Problems.From(Pictures.NothingToDraw);
        return Pictures.Answer(
            ConditionChart.Draw(
                input,
                Pictures.Theme(theme),
                ConditionChart.SizeFor(input.Panels.Count, Math.Clamp(width ?? 760, 200, 2000))
            ),
            form
        );
    }
}
