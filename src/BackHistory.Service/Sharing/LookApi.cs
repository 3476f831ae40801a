using BackHistory.Application.Reminders;
using BackHistory.Application.Sharing;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Service.Access;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Sharing;

/// <summary>What whoever holds a link or a grant may do besides looking: see the pictures, comment, answer.</summary>
public static class LookApi
{
    public static void MapLook(this WebApplication app)
    {
        // Open by nature: the sealed link is what lets its holder in, to one horse, as long as the practice lets it hold.
        var link = app.MapGroup("/look/{token}").AllowAnonymous().ExcludeFromDescription();
        link.MapPost("/open", Bind);
        link.MapGet(
            "/chart.svg",
            async (
                HttpContext http,
                string token,
                string measure,
                string? station,
                string? theme,
                int? width,
                int? height,
                ShareAccess door,
                SharedCharts charts,
                CancellationToken ct
            ) => await Chart(await door.ByLink(http, token, "chart", ct), charts, measure, station, theme, width, height, ct)
        );
        link.MapGet(
            "/record.pdf",
            async (HttpContext http, string token, string? station, ShareAccess door, SharedRecord records, CancellationToken ct) =>
                await Record(await door.ByLink(http, token, "record", ct), records, station, ct)
        );
        link.MapPost(
            "/comment",
            async (
                HttpContext http,
                string token,
                [FromForm] string? words,
                [FromForm] Guid key,
                ShareAccess door,
                CommentOnSharedHorse comment,
                CancellationToken ct
            ) =>
                Back(
                    $"/look/{Uri.EscapeDataString(token)}",
                    await Comment(comment, await door.ByLink(http, token, "comment", ct), key, words, ct)
                )
        );
        link.MapPost(
            "/answer",
            async (
                HttpContext http,
                string token,
                [FromForm] Answer answer,
                [FromForm] string? words,
                ShareAccess door,
                AskedReminder asked,
                GiveAnswer give,
                CancellationToken ct
            ) =>
                Back(
                    $"/look/{Uri.EscapeDataString(token)}",
                    await Tell(give, asked, await door.ByLink(http, token, "answer", ct), answer, words, ct)
                )
        );

        var grant = app.MapGroup("/shared-with-me/{grantId:guid}").RequireAuthorization(Policies.Proved).ExcludeFromDescription();
        grant.MapGet(
            "/chart.svg",
            async (
                HttpContext http,
                Guid grantId,
                string measure,
                string? station,
                string? theme,
                int? width,
                int? height,
                ShareAccess door,
                SharedCharts charts,
                CancellationToken ct
            ) => await Chart(await door.ByGrant(http, grantId, "chart", ct), charts, measure, station, theme, width, height, ct)
        );
        grant.MapGet(
            "/record.pdf",
            async (HttpContext http, Guid grantId, string? station, ShareAccess door, SharedRecord records, CancellationToken ct) =>
                await Record(await door.ByGrant(http, grantId, "record", ct), records, station, ct)
        );
        grant.MapPost(
            "/comment",
            async (
                HttpContext http,
                Guid grantId,
                [FromForm] string? words,
                [FromForm] Guid key,
                ShareAccess door,
                CommentOnSharedHorse comment,
                CancellationToken ct
            ) =>
                Back($"/shared-with-me/{grantId}", await Comment(comment, await door.ByGrant(http, grantId, "comment", ct), key, words, ct))
        );
        grant.MapPost(
            "/answer",
            async (
                HttpContext http,
                Guid grantId,
                [FromForm] Answer answer,
                [FromForm] string? words,
                ShareAccess door,
                AskedReminder asked,
                GiveAnswer give,
                CancellationToken ct
            ) =>
                Back(
                    $"/shared-with-me/{grantId}",
                    await Tell(give, asked, await door.ByGrant(http, grantId, "answer", ct), answer, words, ct)
                )
        );
    }

    /// <summary>Binds the link to this device. A button does it, not the opening: mail programs open links by themselves.</summary>
    private static async Task<IResult> Bind(
        HttpContext http,
        string token,
        [FromForm] string? _,
        ShareAccess door,
        BindLinkToDevice bind,
        CancellationToken ct
    )
    {
        if (await door.ToBind(http, token, ct) is var (name, device))
            await bind.Do(new BindLinkToDevice.Input(name.Practice, name.HorseId, name.LinkId, device), ct);
        return Results.LocalRedirect($"/look/{Uri.EscapeDataString(token)}");
    }

    private static async Task<(string? Done, Refused? Refused)> Comment(
        CommentOnSharedHorse comment,
        Opened opened,
        Guid key,
        string? words,
        CancellationToken ct
    )
    {
        if (opened.ShareContext is not { } s)
            return (null, null);
        var input = new CommentOnSharedHorse.Input(s.Practice, s.HorseId, s.PersonId, s.Role, s.LinkId, s.GrantId, key, words);
        return (await comment.Do(input, ct)).Refused is { } refused ? (null, refused) : ("comment", null);
    }

    private static async Task<(string? Done, Refused? Refused)> Tell(
        GiveAnswer give,
        AskedReminder asked,
        Opened opened,
        Answer answer,
        string? words,
        CancellationToken ct
    )
    {
        if (opened.ShareContext is not { MayAnswer: true } sight || !Enum.IsDefined(answer))
            return (null, null);
        if (await asked.Find(sight, ct) is not { } reminder)
            return (null, ReminderRefusals.NoSuchReminder);
        var given = new GiveAnswer.Input(reminder.Id, answer, words);
        var outcome = await give.ByReader(sight.Practice, sight.PersonId ?? ReminderPolicy.TheReader, given, ct);
        return outcome.Refused is { } refused ? (null, refused) : ("answer", null);
    }

    private static async Task<IResult> Chart(
        Opened opened,
        SharedCharts charts,
        string measure,
        string? station,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    ) =>
        opened.ShareContext is { } sight
            ? await charts.Draw(sight, measure, string.IsNullOrEmpty(station) ? null : station, theme, width, height, ct)
            : Results.NotFound();

    private static async Task<IResult> Record(Opened opened, SharedRecord records, string? station, CancellationToken ct) =>
        opened.ShareContext is { } sight ? await records.Paper(sight, station, ct) : Results.NotFound();

    private static IResult Back(string page, (string? Done, Refused? Refused) told) =>
        Results.LocalRedirect(
            told.Refused is { } no ? $"{page}?refused={no.Code}#say"
            : told.Done is { } done ? $"{page}?done={done}#say"
            : page
        );
}
