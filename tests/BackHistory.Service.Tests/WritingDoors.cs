namespace BackHistory.Service.Tests;

/// <summary>Writing doors that reach no act of Application, or more than one, each list with its reason.</summary>
internal static class WritingDoors
{
    private static readonly (string Reason, string[] Doors)[] Lists =
    [
        ("signing in and out, and what decides how one signs in: the host's own", []),
        ("previews and checks: they answer and keep nothing", []),
        ("still at its door; the list only gets shorter", []),
    ];

    public static IEnumerable<string> All => Lists.SelectMany(l => l.Doors);

    /// <param name="door">Verb and address.</param>
    public static string? Reason(string door) => Lists.FirstOrDefault(l => l.Doors.Contains(door, StringComparer.Ordinal)).Reason;
}
