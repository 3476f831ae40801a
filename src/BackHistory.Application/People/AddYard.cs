using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;

namespace BackHistory.Application.People;

/// <summary>A place where horses stand.</summary>
public sealed class AddYard(Commands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid YardId, YardDetails Details);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.Details.Problem() is { } bad)
            return new Outcome(input.YardId, 0, 0, bad);
        return await commands.ExecuteOnDocument<Yard>(
            by.Context with
            {
                ExpectedVersion = null,
            },
            input.YardId,
            _ =>
                Task.FromResult<Func<Yard?, DecidedDocument<Yard>>>(yard =>
                    yard is not null
                        ? new DecidedDocument<Yard>(yard, null)
                        : new DecidedDocument<Yard>(input.Details.As(input.YardId), by.Note(AuditWords.YardAdded, input.YardId, []))
                ),
            ct
        );
    }
}
