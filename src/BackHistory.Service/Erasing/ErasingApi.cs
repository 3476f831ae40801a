using BackHistory.Application;
using BackHistory.Application.People;
using BackHistory.Service.Access;
using BackHistory.Service.Web;

namespace BackHistory.Service.Erasing;

/// <summary>Erasing a person over HTTP. Horses and shapes stay.</summary>
public static class ErasingApi
{
    public static void MapErasing(this IEndpointRouteBuilder api) =>
        api.MapPost("/people/{personId:guid}/erase", Erase)
            .Needs<ErasePersonalData>()
            .WithTags("People")
            .WithSummary("Erase what is known of a person; what was done to horses stays, by an id that means nothing any more");

    private static async Task<IResult> Erase(
        HttpContext http,
        ErasePersonalData erase,
        TimeProvider time,
        Guid personId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        if (Bodies.NotNothing(body) is { } unread)
            return Problems.From(unread);
        var (context, refused) = CommandRequest.Read(http, body, time);
        if (refused is not null)
            return Problems.From(refused);
        var by = new Caller(context!, SignedIn.From(http.User).Role);
        var (done, no) = await erase.Do(new ErasePersonalData.Input(personId), by, ct);
        if (no is not null)
            return Problems.From(no);
        var erased = done!.Erased;
        return Results.Ok(
            new ErasedAnswer(
                erased.Notes,
                erased.Comments,
                erased.Attachments,
                erased.Letters.Count,
                done.LetterFiles,
                erased.SignIn,
                erased.Left,
                erased.StillFound
            )
        );
    }
}
