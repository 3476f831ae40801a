using Hangfire.Common;

namespace BackHistory.Service.Jobs;

/// <summary>
/// Jobs that wait are kept with the name of their type. One that an earlier release put down is found under the name that its type has
/// today: what was renamed stands here for good.
/// </summary>
internal static class JobTypes
{
    private static readonly (string Before, string Now)[] Renamed =
    [
        ("BackHistory.Service.Import.", "BackHistory.Service.Imports."),
        ("BackHistory.Service.Practice.", "BackHistory.Service.Practices."),
        ("BackHistory.Service.Archive.", "BackHistory.Service.Archives."),
    ];

    /// <param name="stored">A type's name with its assembly, as it was put down.</param>
    /// <exception cref="TypeLoadException">There is no such type any more.</exception>
    public static Type Find(string stored) => TypeHelper.DefaultTypeResolver(NameOf(stored));

    /// <summary>The name that a stored type has today.</summary>
    public static string NameOf(string stored)
    {
        foreach (var (before, now) in Renamed)
            if (stored.StartsWith(before, StringComparison.Ordinal))
                return now + stored[before.Length..];
        return stored;
    }
}
