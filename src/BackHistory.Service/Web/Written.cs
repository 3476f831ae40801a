using BackHistory.History;

namespace BackHistory.Service.Web;

/// <summary>What was written, and its version from now on.</summary>
/// <param name="Made">The id of what the request made inside it: a note, a span, a pad, a file.</param>
public sealed record Written(Guid Id, long Version, Guid? Made = null)
{
    /// <summary>Answers that something was made.</summary>
    internal static IResult Creating(Outcome outcome, Guid made) =>
        Results.Json(new Written(outcome.StreamId, outcome.Version, made), statusCode: StatusCodes.Status201Created);
}
