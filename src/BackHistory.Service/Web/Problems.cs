using BackHistory.History;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Web;

/// <summary>Refusals as problem details (RFC 9457), in one place.</summary>
public static class Problems
{
    public static ProblemHttpResult From(Refused refused)
    {
        var details = new ProblemDetails
        {
            Type = $"urn:backhistory:refused:{refused.Code}",
            Title = TitleOf(refused.Kind),
            Detail = refused.Message,
            Status = StatusOf(refused.Kind),
        };
        details.Extensions["code"] = refused.Code;
        if (refused.Place is { } place)
            details.Extensions["place"] = place;
        return TypedResults.Problem(details);
    }

    private static int StatusOf(RefusalKind kind) =>
        kind switch
        {
            RefusalKind.NotFound => StatusCodes.Status404NotFound,
            RefusalKind.Conflict => StatusCodes.Status409Conflict,
            RefusalKind.Stale => StatusCodes.Status412PreconditionFailed,
            RefusalKind.VersionMissing => StatusCodes.Status428PreconditionRequired,
            _ => StatusCodes.Status422UnprocessableEntity,
        };

    private static string TitleOf(RefusalKind kind) =>
        kind switch
        {
            RefusalKind.NotFound => "Not found",
            RefusalKind.Conflict => "It contradicts what has happened already",
            RefusalKind.Stale => "It was changed in the meantime",
            RefusalKind.VersionMissing => "A version is needed",
            _ => "It cannot be carried out as it stands",
        };
}
