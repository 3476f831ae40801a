using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Practices;

namespace BackHistory.Application.People;

/// <summary>A place where horses stand.</summary>
public sealed class AddYard(PracticeQueries practices) : IAct
{
    private const int LongestName = 120;

    public static Right Needs => Right.Enter;

    public sealed record Input(Guid YardId, string Name, string? Town);

    /// <returns>Why none was added; null when it was, now or before.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        if (ReadableName.IsMissing(input.Name) || input.Name.Length > LongestName)
            return new Refused("no-name", "A yard needs a name of up to 120 letters.", Place: "name");
        await practices.Add(by.Context.Tenant, new Yard(input.YardId, input.Name.Trim(), input.Town), ct);
        return null;
    }
}
