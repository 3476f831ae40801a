using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Sharing;
using BackHistory.Service.Access;
using BackHistory.Store;
using BackHistory.Store.Reminders;
using BackHistory.Store.Sharing;
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
        link.MapPost(
            "/comment",
            async (
                HttpContext http,
                string token,
                [FromForm] string? words,
                [FromForm] Guid key,
                ShareAccess door,
                ShareResponses told,
                CancellationToken ct
            ) =>
                Back(
                    $"/look/{Uri.EscapeDataString(token)}",
                    await told.Comment(await door.ByLink(http, token, "comment", ct), key, words, ct)
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
                ShareResponses told,
                CancellationToken ct
            ) =>
                Back(
                    $"/look/{Uri.EscapeDataString(token)}",
                    await told.Answer(await door.ByLink(http, token, "answer", ct), answer, words, ct)
                )
        );

        var grant = app.MapGroup("/shared-with-me/{grantId:guid}").RequireAuthorization(Policies.Myself).ExcludeFromDescription();
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
        grant.MapPost(
            "/comment",
            async (
                HttpContext http,
                Guid grantId,
                [FromForm] string? words,
                [FromForm] Guid key,
                ShareAccess door,
                ShareResponses told,
                CancellationToken ct
            ) => Back($"/shared-with-me/{grantId}", await told.Comment(await door.ByGrant(http, grantId, "comment", ct), key, words, ct))
        );
        grant.MapPost(
            "/answer",
            async (
                HttpContext http,
                Guid grantId,
                [FromForm] Answer answer,
                [FromForm] string? words,
                ShareAccess door,
                ShareResponses told,
                CancellationToken ct
            ) => Back($"/shared-with-me/{grantId}", await told.Answer(await door.ByGrant(http, grantId, "answer", ct), answer, words, ct))
        );
    }

    /// <summary>Binds the link to this device. A button does it, not the opening: mail programs open links by themselves.</summary>
    private static async Task<IResult> Bind(
        HttpContext http,
        string token,
        [FromForm] string? _,
        ShareAccess door,
        Commands commands,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (await door.ToBind(http, token, ct) is { } bind)
        {
            var now = time.GetUtcNow();
            var context = new CommandContext(
                bind.Name.Practice,
                ReminderPolicy.TheReader,
                $"bind:{bind.Name.LinkId}:{bind.DeviceHash}",
                "",
                null,
                now
            );
            await commands.Execute<HorseSharing>(
                context,
                HorseSharing.IdOf(bind.Name.HorseId),
                s => SharingDecider.Decide(s, new BindLink(bind.Name.LinkId, bind.DeviceHash, ReminderPolicy.TheReader), now),
                ct
            );
        }

        return Results.LocalRedirect($"/look/{Uri.EscapeDataString(token)}");
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

    private static IResult Back(string page, (string? Done, Refused? Refused) told) =>
        Results.LocalRedirect(
            told.Refused is { } no ? $"{page}?refused={no.Code}#say"
            : told.Done is { } done ? $"{page}?done={done}#say"
            : page
        );
}

/// <summary>Takes down what somebody outside the practice says about a horse.</summary>
public sealed class ShareResponses(Commands commands, SharingQueries sharing, ReminderQueries reminders, GiveAnswer give, TimeProvider time)
{
    /// <param name="key">The form's own: sent twice it is one comment.</param>
    public async Task<(string? Done, Refused? Refused)> Comment(Opened opened, Guid key, string? words, CancellationToken ct)
    {
        if (opened.ShareContext is not { } sight)
            return (null, null);
        if (SharingDecider.OfWords(words) is { } bad)
            return (null, bad);
        var now = time.GetUtcNow();
        var by = sight.PersonId ?? ReminderPolicy.TheReader;
        var id = DeterministicId.Of(
            "comment",
            sight.Practice,
            sight.HorseId.ToString(),
            (sight.LinkId ?? sight.GrantId).ToString()!,
            key.ToString()
        );
        var context = new CommandContext(sight.Practice, by, $"comment:{id}", "", null, now);
        var outcome = await commands.Execute<HorseSharing>(
            context,
            HorseSharing.IdOf(sight.HorseId),
            s => SharingDecider.Decide(s, new MakeComment(id, sight.GrantId, sight.LinkId, words!, by), now),
            ct
        );
        if (outcome.Refused is { } refused)
            return (null, refused);
        await sharing.Keep(sight.Practice, new Comment(id, sight.HorseId, sight.PersonId, sight.Role, words!.Trim(), now), ct);
        return ("comment", null);
    }

    public async Task<(string? Done, Refused? Refused)> Answer(Opened opened, Answer answer, string? words, CancellationToken ct)
    {
        if (opened.ShareContext is not { MayAnswer: true } sight || !Enum.IsDefined(answer))
            return (null, null);
        if (await Open(sight, ct) is not { } reminder)
            return (null, ReminderRefusals.NoSuchReminder);
        var given = new GiveAnswer.Input(reminder.Id, answer, words);
        var outcome = await give.ByReader(sight.Practice, sight.PersonId ?? ReminderPolicy.TheReader, given, ct);
        if (outcome.Refused is { } refused)
            return (null, refused);
        return ("answer", null);
    }

    /// <summary>The horse's reminder that waits for an answer.</summary>
    public async Task<Reminder?> Open(ShareContext sight, CancellationToken ct) =>
        await reminders.Newest(sight.Practice, [ReminderState.Open, ReminderState.PutOff, ReminderState.Booked], sight.HorseId, null, 1, ct)
            is [var newest, ..]
            ? newest
            : null;
}
