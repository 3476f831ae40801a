using BackHistory.Application;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Store;

namespace BackHistory.Service.Web;

/// <summary>From a writing request to its answer: read the key and version, carry the command out, tell the notifier, map the
/// outcome.</summary>
public sealed class CommandRunner(Commands commands, IChangeNotifier notifier, TimeProvider time)
{
    /// <param name="decide">The decider, given the state and the time.</param>
    /// <param name="answer">The response for a command that was carried out, now or before: a function of the request and the version
    /// only.</param>
    public async Task<IResult> Run<TState>(
        HttpContext http,
        Guid streamId,
        byte[] body,
        bool creates,
        Func<TState?, CommandContext, Decided> decide,
        Func<Outcome, CommandContext, IResult> answer
    )
        where TState : class, IFolded<TState>
    {
        var (context, refused) = CommandRequest.Read(http, body, time, creates);
        return refused is not null ? Problems.Of(refused) : await Run(http, context!, streamId, decide, answer);
    }

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
        return bad is not null ? Problems.Of(bad) : await Act(http, body, creates, by => act(request!, by), answer);
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
            return Problems.Of(bad);
        var (by, refused) = Callers.ByKey(http, time);
        return (refused ?? await act(request!, by!)) is { } no ? Problems.Of(no) : answer();
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
            return Problems.Of(refused);
        var outcome = await act(new Caller(context!, SignedIn.From(http.User).Role));
        if (outcome.Refused is { } no)
            return Problems.Of(no);
        http.Response.Headers.ETag = $"\"{outcome.Version}\"";
        return answer(outcome);
    }

    /// <summary>A command on something that exists, whose request is JSON and whose answer is the new version.</summary>
    public Task<IResult> Change<TRequest, TState>(HttpContext http, Guid streamId, Func<TRequest, TState?, CommandContext, Decided> decide)
        where TRequest : class
        where TState : class, IFolded<TState> => Read(http, streamId, decide, version => Results.Ok(new Written(streamId, version)));

    /// <summary>The same for a command that makes something inside it.</summary>
    /// <param name="made">Its id, which follows from the idempotency key.</param>
    public Task<IResult> Make<TRequest, TState>(
        HttpContext http,
        Guid streamId,
        Guid made,
        Func<TRequest, TState?, CommandContext, Decided> decide
    )
        where TRequest : class
        where TState : class, IFolded<TState> =>
        Read(
            http,
            streamId,
            decide,
            version => Results.Json(new Written(streamId, version, made), statusCode: StatusCodes.Status201Created)
        );

    private async Task<IResult> Read<TRequest, TState>(
        HttpContext http,
        Guid streamId,
        Func<TRequest, TState?, CommandContext, Decided> decide,
        Func<long, IResult> answer
    )
        where TRequest : class
        where TState : class, IFolded<TState>
    {
        var body = await Bodies.Read(http.Request, http.RequestAborted);
        var (request, bad) = Bodies.As<TRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        return await Run<TState>(
            http,
            streamId,
            body,
            creates: false,
            (state, c) => decide(request!, state, c),
            (outcome, _) => answer(outcome.Version)
        );
    }

    /// <inheritdoc
    /// cref="Run{TState}(HttpContext, Guid, byte[], bool, Func{TState, CommandContext, Decided}, Func{Outcome, CommandContext, IResult})"/>
    public async Task<IResult> Run<TState>(
        HttpContext http,
        CommandContext context,
        Guid streamId,
        Func<TState?, CommandContext, Decided> decide,
        Func<Outcome, CommandContext, IResult> answer
    )
        where TState : class, IFolded<TState>
    {
        var outcome = await commands.Execute<TState>(context, streamId, state => decide(state, context), http.RequestAborted);
        if (outcome.Refused is { } no)
            return Problems.Of(no);
        notifier.SomethingHappened(context.Tenant);
        http.Response.Headers.ETag = $"\"{outcome.Version}\"";
        return answer(outcome, context);
    }
}

/// <summary>What was written, and its version from now on.</summary>
/// <param name="Made">The id of what the request made inside it: a note, a span, a pad, a file.</param>
public sealed record Written(Guid Id, long Version, Guid? Made = null)
{
    /// <summary>Answers that something was made.</summary>
    internal static IResult Creating(Outcome outcome, Guid made) =>
        Results.Json(new Written(outcome.StreamId, outcome.Version, made), statusCode: StatusCodes.Status201Created);
}
