namespace BackHistory.Application.Imports;

/// <param name="About">The field of the plan that answers it.</param>
/// <param name="Columns">The headers whose cells cannot be read before.</param>
/// <param name="Of">Where the plan holds several answers under that field: the one that is asked for.</param>
/// <param name="Several">More than one answer may be given.</param>
/// <param name="Labels">The answers in words, in their order; null where they say themselves what they are.</param>
/// <param name="Reads">How many cells each answer would read, in their order; null where that is not what is asked.</param>
public sealed record ImportQuestion(
    string About,
    string Question,
    IReadOnlyList<string> Answers,
    IReadOnlyList<string> Columns,
    string? Of = null,
    bool Several = false,
    IReadOnlyList<string>? Labels = null,
    IReadOnlyList<int>? Reads = null
);
