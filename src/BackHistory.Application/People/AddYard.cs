using BackHistory.History;
using BackHistory.Store.Practices;

namespace BackHistory.Application.People;

/// <summary>A place where horses stand.</summary>
public sealed class AddYard(PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid YardId, YardDetails Details);

    /// <returns>Why none was added; null when it was, now or before.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.Details.Problem() is { } bad)
            return bad;
        await practices.Add(by.Context.Tenant, input.Details.As(input.YardId), ct);
        return null;
    }
}
