using BackHistory.Application.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Practices;

/// <summary>The wish to learn anew, from the page that shows what was learned.</summary>
public static class LearningForms
{
    private const string Page = "/practice/thresholds";

    public static void MapLearningForms(this WebApplication app) =>
        app.MapPost("/practice/learned", Learn).Needs<LearnAnew>().ExcludeFromDescription();

    /// <param name="key">The form's: pressed twice, it is learned once.</param>
    private static IResult Learn(HttpContext http, [FromForm] string? key, LearnAnew learn, TimeProvider time)
    {
        if (key is null or { Length: 0 or > CommandRequest.LongestKey })
            return Results.LocalRedirect(Page);
        learn.Do(new LearnAnew.Input(NewIds.IdForForm(SignedIn.From(http.User), key, "learned")), Callers.CallerFor(http, time, key));
        return Results.LocalRedirect($"{Page}?saved=learning");
    }
}
