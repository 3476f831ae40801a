namespace BackHistory.Store;

/// <summary>
/// Idempotency keys that somebody outside chose. They stand under the person who sent them: nobody's key meets another's, and none meets
/// a key of the service's own, whose words a caller could guess.
/// </summary>
public static class CallerKey
{
    private const char End = '/';

    private const int PersonLength = 32;

    /// <param name="sent">As it was sent, 1 to 200 characters.</param>
    public static string KeyFor(Guid person, string sent) => $"{person:N}{End}{sent}";

    /// <summary>As earlier releases kept it, without the person; null for a key of the service's own, and for one that spells out
    /// somebody's: what lies under that is theirs.</summary>
    internal static string? Bare(string key) =>
        IsSomebodys(key) && key[(PersonLength + 1)..] is var sent && !IsSomebodys(sent) ? sent : null;

    private static bool IsSomebodys(string key) =>
        key.Length > PersonLength && key[PersonLength] == End && Guid.TryParseExact(key.AsSpan(0, PersonLength), "N", out _);
}
