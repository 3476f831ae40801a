using BackHistory.Reports.Fonts;
using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>Gives the PDF library the same font files as the charts. Its resolver is one for the process and set once.</summary>
internal sealed class SheetFonts : IFontResolver
{
    static readonly Lazy<bool> Registered = new(Register);

    /// <exception cref="FontMissingException">The font is not installed.</exception>
    public static XFont Font(double size, bool bold = false, bool italic = false)
    {
        _ = Registered.Value;
        return new XFont(
            ReportFonts.Family,
            size,
            (bold ? XFontStyleEx.Bold : XFontStyleEx.Regular) | (italic ? XFontStyleEx.Italic : XFontStyleEx.Regular)
        );
    }

    static bool Register()
    {
        _ = ReportFonts.Files;
        GlobalFontSettings.FontResolver = new SheetFonts();
        return true;
    }

    // Bold is the semibold face: the sheets' headings look like the charts'.
    public FontResolverInfo ResolveTypeface(string familyName, bool bold, bool italic) =>
        new(
            bold ? "semibold"
            : italic ? "italic"
            : "regular"
        );

    public byte[] GetFont(string faceName) =>
        File.ReadAllBytes(
            faceName switch
            {
                "semibold" => ReportFonts.Files.Semibold,
                "italic" => ReportFonts.Files.Italic,
                _ => ReportFonts.Files.Regular,
            }
        );
}
