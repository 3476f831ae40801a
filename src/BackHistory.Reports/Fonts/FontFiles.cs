namespace BackHistory.Reports.Fonts;

/// <summary>The four faces in use, as files of one open family (SIL Open Font Licence or Apache 2.0, by version).</summary>
internal sealed record FontFiles(string Regular, string Semibold, string Bold, string Italic)
{
    static readonly string[] SemiboldNames = ["OpenSans-Semibold.ttf", "OpenSans-SemiBold.ttf"];

    /// <summary>The folders where systems keep fonts, in the order they are searched.</summary>
    public static IReadOnlyList<string> StandardFolders { get; } =
    [
        "/usr/share/fonts/truetype/open-sans",
        "/usr/share/fonts/open-sans",
        "/usr/share/fonts/TTF",
        "/usr/local/share/fonts",
        "/Library/Fonts",
        Environment.GetFolderPath(Environment.SpecialFolder.Fonts),
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData), "fonts"),
    ];

    /// <exception cref="FontMissingException">No folder holds all four faces.</exception>
    public static FontFiles Find(IReadOnlyList<string> folders) =>
        folders.Where(f => f.Length > 0 && Directory.Exists(f)).Select(InFolder).FirstOrDefault(f => f is not null)
        ?? throw new FontMissingException(
            "The font Open Sans is missing, without it charts and sheets would lose their text. Install the Debian package fonts-open-sans "
                + $"(apt-get install fonts-open-sans), or put OpenSans-Regular, -Semibold, -Bold and -Italic.ttf into one of: "
                + $"{string.Join(", ", folders.Where(f => f.Length > 0))}."
        );

    static FontFiles? InFolder(string folder)
    {
        string? File(params string[] names) => names.Select(n => Path.Combine(folder, n)).FirstOrDefault(System.IO.File.Exists);
        return
            File("OpenSans-Regular.ttf") is { } regular
            && File(SemiboldNames) is { } semibold
            && File("OpenSans-Bold.ttf") is { } bold
            && File("OpenSans-Italic.ttf") is { } italic
            ? new(regular, semibold, bold, italic)
            : null;
    }
}
