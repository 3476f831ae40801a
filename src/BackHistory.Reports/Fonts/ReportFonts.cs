using SkiaSharp;

namespace BackHistory.Reports.Fonts;

internal enum Weight
{
    Regular,
    Semibold,
    Bold,
}

/// <summary>
/// The one font of all charts and sheets. A system without fonts makes the drawing library drop text without a word; so the files are
/// looked for once, handed to it, and their absence is an error that says what to install.
/// </summary>
public static class ReportFonts
{
    /// <summary>The family every text is set in.</summary>
    public const string Family = "Open Sans";

    static readonly Lazy<FontFiles> Found = new(() => FontFiles.Find(FontFiles.StandardFolders));
    static readonly Lazy<SKTypeface[]> Faces = new(Load);

    /// <summary>Finds and registers the font. Call it at start to hear of a missing font then; every chart calls it too. Safe to
    /// repeat.</summary>
    /// <exception cref="FontMissingException">The font is not installed.</exception>
    public static void Register() => _ = Faces.Value;

    internal static FontFiles Files => Found.Value;

    internal static SKTypeface Face(Weight weight) => Faces.Value[(int)weight];

    static SKTypeface[] Load()
    {
        var files = Files;
        // ScottPlot asks its resolvers in order; ours comes first so that a same-named system font cannot take its place.
        ScottPlot.Fonts.FontResolvers.Insert(
            0,
            new ScottPlot.FontResolvers.FileFontResolver(
                Family,
                files.Regular,
                ScottPlot.FontWeight.Normal,
                ScottPlot.FontSlant.Upright,
                ScottPlot.FontSpacing.Normal
            )
        );
        return [.. new[] { files.Regular, files.Semibold, files.Bold }.Select(Open)];
    }

    static SKTypeface Open(string path) =>
        SKTypeface.FromFile(path)
        ?? throw new FontMissingException($"The font file {path} cannot be read; reinstall the package fonts-open-sans.");
}
