using BackHistory.Trends.Caseload;

namespace BackHistory.Service.Practices;

/// <summary>How much horses change in 90 days: 10, 50 and 90 of 100 lie below the three values.</summary>
public sealed record ChangesAnswer(
    string Key,
    string? Station,
    string Unit,
    int Changes,
    IReadOnlyList<ChangeGroup> ByAge,
    IReadOnlyList<ChangeGroup> BySeason
);
