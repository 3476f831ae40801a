using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.People;

/// <summary>What the practice knows of a place where horses stand, as somebody enters it.</summary>
public sealed record YardDetails(string Name, string? Town)
{
    private const int LongestName = 120;
    private const int LongestTown = 120;

    /// <summary>Why it cannot be kept; null when it can.</summary>
    internal Refused? Problem() =>
        ReadableName.IsMissing(Name) || Name.Length > LongestName
            ? new Refused("no-name", "A yard needs a name of up to 120 letters.", Place: "name")
        : Town?.Length > LongestTown ? new Refused("long-town", $"A town has up to {LongestTown} letters.", Place: "town")
        : null;

    /// <summary>It, as it is kept.</summary>
    internal Yard As(Guid id) => new(id, Name.Trim(), Town);
}
