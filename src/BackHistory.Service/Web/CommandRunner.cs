using BackHistory.Application;
using BackHistory.History;
using BackHistory.Service.Access;

namespace BackHistory.Service.Web;

/// <summary>From a writing request to its answer: read the key and version, let the act happen, map the outcome.</summary>
public sealed class CommandRunner(TimeProvider time)
{
    /// <summary>An act on what exists: read the key and version, let it happen, map what came of it.</summary>
    /// <param name="answer">The response, given the version from now on.</param>
    public Task<IResult> Act(HttpContext http, byte[] body, Func<Caller, Task<Outcome>> act, Func<long, IResult> answer) =>
        Act(http, body, creates: false, act, outcome => answer(outcome.Version));

    /// <summary>An act whose request is JSON.</summary>
    /// <param name="answer">The response for an act that was carried out, now or before.</param>
    /// <param name="creates">Of something new, which has no version to match.</param>
    public async Task<IResult> Act<TRequest>(
        HttpContext http,
        Func<TRequest, Caller, Task<Outcome>> act,
        Func<Outcome, IResult> answer,
        bool creates = false
    )
        where TRequest : class
    {
        var body = await Bodies.Read(http.Request, http.RequestAborted);
        var (request, bad) = Bodies.As<TRequest>(body);
        return bad is not null ? Problems.From(bad) : await Act(http, body, creates, by => act(request!, by), answer);
    }

    /// <summary>The same on something that exists; the answer is its new version.</summary>
    public Task<IResult> Change<TRequest>(HttpContext http, Guid streamId, Func<TRequest, Caller, Task<Outcome>> act)
        where TRequest : class => Act(http, act, outcome => Results.Ok(new Written(streamId, outcome.Version)));

    /// <summary>The same where the act finds what it is about.</summary>
    public Task<IResult> Change<TRequest>(HttpContext http, Func<TRequest, Caller, Task<Outcome>> act)
        where TRequest : class => Act(http, act, outcome => Results.Ok(new Written(outcome.StreamId, outcome.Version)));

    /// <summary>An act on what has no version, whose request is JSON with a key.</summary>
    /// <param name="act">Null when it was done, now or before.</param>
    public async Task<IResult> Save<TRequest>(HttpContext http, Func<TRequest, Caller, Task<Refused?>> act, Func<IResult> answer)
        where TRequest : class
    {
        var (request, bad) = Bodies.As<TRequest>(await Bodies.Read(http.Request, http.RequestAborted));
        if (bad is not null)
            return Problems.From(bad);
        var (by, refused) = CommandRequest.Caller(http, time);
        return (refused ?? await act(request!, by!)) is { } no ? Problems.From(no) : answer();
    }

    /// <summary>The same for an act that makes something inside it.</summary>
    /// <param name="made">Its id, which follows from the idempotency key.</param>
    public Task<IResult> Make<TRequest>(HttpContext http, Guid streamId, Guid made, Func<TRequest, Caller, Task<Outcome>> act)
        where TRequest : class =>
        Act(http, act, outcome => Results.Json(new Written(streamId, outcome.Version, made), statusCode: StatusCodes.Status201Created));

    private async Task<IResult> Act(
        HttpContext http,
        byte[] body,
        bool creates,
        Func<Caller, Task<Outcome>> act,
        Func<Outcome, IResult> answer
    )
    {
        var (context, refused) = CommandRequest.Read(http, body, time, creates);
        if (refused is not null)
            return Problems.From(refused);
        var outcome = await act(new Caller(context!, SignedIn.From(http.User).Role));
        if (outcome.Refused is { } no)
            return Problems.From(no);
        http.Response.Headers.ETag = $"\"{outcome.Version}\"";
        return answer(outcome);
    }
}
