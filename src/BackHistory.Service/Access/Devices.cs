namespace BackHistory.Service.Access;

/// <summary>A browser in words that its owner recognises. Nothing rests on it: a browser says of itself what it likes.</summary>
internal static class Devices
{
    private static readonly (string Mark, string Name)[] Browsers =
    [
        ("Edg/", "Edge"),
        ("OPR/", "Opera"),
        ("Firefox/", "Firefox"),
        ("Chrome/", "Chrome"),
        ("Safari/", "Safari"),
    ];
    private static readonly (string Mark, string Name)[] Systems =
    [
        ("Android", "Android"),
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Windows", "Windows"),
        ("Mac OS", "Mac"),
        ("Linux", "Linux"),
    ];

    public static string NameOf(string userAgent)
    {
        var browser = NameIn(userAgent, Browsers);
        var system = NameIn(userAgent, Systems);
        return (browser, system) switch
        {
            (not null, not null) => $"{browser} on {system}",
            (not null, null) => browser,
            (null, not null) => system,
            _ => "an unknown browser",
        };
    }

    private static string? NameIn(string text, (string Mark, string Name)[] known) =>
        Array.Find(known, k => text.Contains(k.Mark, StringComparison.Ordinal)).Name;
}
