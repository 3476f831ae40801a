using BackHistory.Application.Sharing;
using BackHistory.History;
using BackHistory.History.Sharing;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Sharing;

/// <summary>The forms of the share section: the same as the API, by hand.</summary>
public static class ShareForms
{
    public static void MapShareForms(this WebApplication app)
    {
        var share = app.MapGroup("/horses/{horseId:guid}/share").ExcludeFromDescription();
        share.MapPost("/person", ToPerson).Needs<ShareHorse>();
        share.MapPost("/link", ByLink).Needs<ShareHorseByLink>();
        share.MapPost("/take-back", TakeBack).Needs<TakeBackShare>();
    }

    private static async Task<IResult> ToPerson(
        HttpContext http,
        Guid horseId,
        [FromForm] string? name,
        [FromForm] string? email,
        [FromForm] SharedWith role,
        [FromForm] string? until,
        [FromForm] Guid key,
        [FromForm] bool? fromHorse,
        ShareHorse share,
        TimeProvider time,
        CancellationToken ct
    )
    {
        DateOnly? last = null;
        if (!string.IsNullOrWhiteSpace(until))
        {
            if (
                !DateOnly.TryParseExact(
                    until,
                    "yyyy-MM-dd",
                    System.Globalization.CultureInfo.InvariantCulture,
                    System.Globalization.DateTimeStyles.None,
                    out var day
                )
            )
                return Back(horseId, fromHorse, "bad-date");
            last = day;
        }

        var by = Callers.CallerFor(http, time, $"share:{key}");
        var practice = by.Context.Tenant;
        var with = new Recipient.ByAddress(DeterministicId.From("person shared with", practice, key.ToString()), name, email);
        var grant = DeterministicId.From("grant", practice, key.ToString());
        var outcome = await share.Do(new ShareHorse.Input(horseId, grant, with, role, Until: last), by, ct);
        return outcome.Refused is { } no ? Back(horseId, fromHorse, no.Code) : Done(horseId, fromHorse, "given");
    }

    private static async Task<IResult> ByLink(
        HttpContext http,
        Guid horseId,
        [FromForm] SharedWith role,
        [FromForm] int days,
        [FromForm] bool? binds,
        [FromForm] Guid key,
        [FromForm] bool? fromHorse,
        ShareHorseByLink share,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (!Enum.IsDefined(role))
            return Back(horseId, fromHorse, "bad-role");
        var by = Callers.CallerFor(http, time, $"share:{key}");
        var link = DeterministicId.From("link", by.Context.Tenant, key.ToString());
        var input = new ShareHorseByLink.Input(horseId, link, null, role, BindsToDevice: binds ?? false, Days: days);
        var outcome = await share.Do(input, by, ct);
        return outcome.Refused is { } no ? Back(horseId, fromHorse, no.Code) : Done(horseId, fromHorse, "made");
    }

    /// <summary>Whoever presses it first takes it back; pressed again it is the same.</summary>
    private static async Task<IResult> TakeBack(
        HttpContext http,
        Guid horseId,
        [FromForm] Guid id,
        [FromForm] bool? isLink,
        [FromForm] bool? fromHorse,
        TakeBackShare takeBack,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var by = Callers.CallerFor(http, time, "");
        by = by with { Context = by.Context with { Key = $"take-back:{id}" } };
        var input = new TakeBackShare.Input(horseId, isLink == true ? ShareKind.Link : ShareKind.Grant, id, null);
        var outcome = await takeBack.Do(input, by, ct);
        return outcome.Refused is { } no ? Back(horseId, fromHorse, no.Code) : Done(horseId, fromHorse, "taken-back");
    }

    private static IResult Back(Guid horseId, bool? fromHorse, string refused) => To(horseId, fromHorse, $"refused={refused}");

    private static IResult Done(Guid horseId, bool? fromHorse, string done) => To(horseId, fromHorse, $"done={done}");

    /// <summary>The same forms stand on the horse's page and on the page of its sharing.</summary>
    private static IResult To(Guid horseId, bool? fromHorse, string said) =>
        Results.LocalRedirect(fromHorse == true ? $"/horses/{horseId}?{said}#shared" : $"/horses/{horseId}/share?{said}");
}
