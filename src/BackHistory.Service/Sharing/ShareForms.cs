using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Service.Access;
using BackHistory.Store;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Sharing;

/// <summary>The forms of the share section: the same as the API, by hand.</summary>
public static class ShareForms
{
    public static void MapShareForms(this WebApplication app)
    {
        var share = app.MapGroup("/horses/{horseId:guid}/share").RequireAuthorization(Policies.Manage).ExcludeFromDescription();
        share.MapPost("/person", ToPerson);
        share.MapPost("/link", ByLink);
        share.MapPost("/take-back", TakeBack);
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
        ShareService giving,
        PracticeQueries practices,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (!EmailAddress.TryParse(email, out var valid))
            return Back(horseId, fromHorse, "bad-email");
        var address = valid.Value;
        if (!Enum.IsDefined(role))
            return Back(horseId, fromHorse, "bad-role");
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

        var c = Context(http, key, time);
        if (await practices.PersonByEmail(c.Tenant, address, ct) is not { } person)
        {
            if (string.IsNullOrWhiteSpace(name) || name.Length > 120)
                return Back(horseId, fromHorse, "no-name");
            person = new Person(
                DeterministicId.Of("person shared with", c.Tenant, key.ToString()),
                name.Trim(),
                address,
                null,
                null,
                RoleOf(role)
            );
            await practices.Add(c.Tenant, person, ct);
        }

        var outcome = await giving.Grant(
            c,
            horseId,
            DeterministicId.Of("grant", c.Tenant, key.ToString()),
            new GrantRequest(person.Id, role, null, null, last),
            ct
        );
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
        ShareService giving,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (!Enum.IsDefined(role))
            return Back(horseId, fromHorse, "bad-role");
        var c = Context(http, key, time);
        var outcome = await giving.Link(
            c,
            horseId,
            DeterministicId.Of("link", c.Tenant, key.ToString()),
            new LinkRequest(null, role, null, null, binds, days),
            ct
        );
        return outcome.Refused is { } no ? Back(horseId, fromHorse, no.Code) : Done(horseId, fromHorse, "made");
    }

    private static async Task<IResult> TakeBack(
        HttpContext http,
        Guid horseId,
        [FromForm] Guid id,
        [FromForm] bool? isLink,
        [FromForm] bool? fromHorse,
        Commands commands,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var c = Context(http, id, time) with { Key = $"take-back:{id}" };
        var outcome = await commands.Execute<HorseSharing>(
            c,
            HorseSharing.IdOf(horseId),
            s =>
                isLink == true
                    ? SharingDecider.Decide(s, new RevokeLink(id, null, c.Actor), c.Now)
                    : SharingDecider.Decide(s, new RevokeAccess(id, null, c.Actor), c.Now),
            ct
        );
        return outcome.Refused is { } no ? Back(horseId, fromHorse, no.Code) : Done(horseId, fromHorse, "taken-back");
    }

    private static CommandContext Context(HttpContext http, Guid key, TimeProvider time)
    {
        var who = SignedIn.From(http.User);
        return new CommandContext(
            who.Practice,
            who.PersonId,
            CallerKey.Of(who.PersonId, $"share:{key}"),
            "",
            null,
            time.GetUtcNow(),
            http.TraceIdentifier
        );
    }

    private static PersonRole RoleOf(SharedWith role) =>
        role switch
        {
            SharedWith.Owner => PersonRole.Owner,
            SharedWith.Rider => PersonRole.Rider,
            SharedWith.Veterinarian => PersonRole.Veterinarian,
            SharedWith.Physiotherapist => PersonRole.Physiotherapist,
            _ => PersonRole.Fitter,
        };

    private static IResult Back(Guid horseId, bool? fromHorse, string refused) => To(horseId, fromHorse, $"refused={refused}");

    private static IResult Done(Guid horseId, bool? fromHorse, string done) => To(horseId, fromHorse, $"done={done}");

    /// <summary>The same forms stand on the horse's page and on the page of its sharing.</summary>
    private static IResult To(Guid horseId, bool? fromHorse, string said) =>
        Results.LocalRedirect(fromHorse == true ? $"/horses/{horseId}?{said}#shared" : $"/horses/{horseId}/share?{said}");
}
