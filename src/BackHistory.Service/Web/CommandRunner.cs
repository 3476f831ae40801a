using BackHistory.History;
using BackHistory.History.Store;
using BackHistory.Service.Jobs;

namespace BackHistory.Service.Web;

/// <summary>From a writing request to its answer: read the key and version, carry the command out, tell the watchers, map the outcome.</summary>
public sealed class CommandRunner(Commands commands, Watchers watchers, TimeProvider time)
{
    /// <param name="decide">The decider, given the state and the time.</param>
    /// <param name="answer">The response for a command that was carried out, now or before: a function of the request and the version only.</param>
    public async Task<IResult> Run<TState>(
        HttpContext http, Guid streamId, byte[] body, bool creates, Func<TState?, CommandContext, Decided> decide, Func<Outcome, CommandContext, IResult> answer)
        where TState : class
    {
        var (context, refused) = CommandRequest.Read(http, body, time, creates);
        return refused is not null ? Problems.Of(refused) : await Run(http, context!, streamId, decide, answer);
    }

    /// <inheritdoc cref="Run{TState}(HttpContext, Guid, byte[], bool, Func{TState, CommandContext, Decided}, Func{Outcome, CommandContext, IResult})"/>
    public async Task<IResult> Run<TState>(
        HttpContext http, CommandContext context, Guid streamId, Func<TState?, CommandContext, Decided> decide, Func<Outcome, CommandContext, IResult> answer)
        where TState : class
    {
        var outcome = await commands.Execute<TState>(context, streamId, state => decide(state, context), http.RequestAborted);
        if (outcome.Refused is { } no) return Problems.Of(no);
        watchers.SomethingHappened(context.Tenant);
        http.Response.Headers.ETag = $"\"{outcome.Version}\"";
        return answer(outcome, context);
    }
}
