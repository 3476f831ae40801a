using BackHistory.Application.Letters;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>A practice's first letters: they wait until somebody has looked at them.</summary>
public static class FirstLettersApi
{
    public static void MapFirstLetters(this IEndpointRouteBuilder api)
    {
        var first = api.MapGroup("/letters").WithTags("Reminders");
        first
            .MapGet("/first", Get)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Whether the practice's letters leave by themselves, and how many wait");
        first
            .MapPost("/release", Release)
            .Needs<ReleaseFirstLetters>()
            .WithSummary("Let the first letters go")
            .Accepts<NoWords>("application/json");
    }

    private static async Task<IResult> Get(
        HttpContext http,
        PracticeQueries practices,
        ReminderQueries reminders,
        FirstLetters first,
        CancellationToken ct
    )
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await practices.Load(tenant, ct) is not { } practice)
            return Problems.Of(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = EntityTag.Of(practice.Version);
        var released = await first.MayLeave(tenant, practice, ct);
        return Results.Ok(new FirstLettersAnswer(released, released ? 0 : (await first.Waiting(tenant, ct)).Count));
    }

    private static Task<IResult> Release(HttpContext http, CommandRunner runner, ReleaseFirstLetters release, CancellationToken ct) =>
        runner.Change<NoWords>(http, (_, by) => release.Do(by, ct));
}
