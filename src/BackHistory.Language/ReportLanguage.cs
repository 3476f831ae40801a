using System.Globalization;

namespace BackHistory.Language;

/// <summary>The language of a reader: what is said in it, and how it writes numbers and days. Its default is English, in which every text
/// is there; what another language lacks is said in English, as .NET's resources fall back. Sentences given by a caller stay as
/// given.</summary>
public readonly struct ReportLanguage : IEquatable<ReportLanguage>
{
    private readonly LanguageTexts? texts;

    internal ReportLanguage(LanguageTexts texts) => this.texts = ReferenceEquals(texts, Languages.Shipped.English) ? null : texts;

    public static ReportLanguage English => default;

    /// <summary>The shipped language of a tag (BCP 47, for example <c>de</c>); English where there is none.</summary>
    public static ReportLanguage For(string? tag) => Languages.Shipped.Find(tag);

    private LanguageTexts Texts => texts ?? Languages.Shipped.English;

    /// <summary>As it is kept of a person and written into a page or letter: <c>en</c>, <c>de</c>.</summary>
    public string Tag => Texts.Tag;

    /// <summary>What the language is called in English.</summary>
    public string EnglishName => this["language.english-name"];

    /// <summary>What it calls itself.</summary>
    public string OwnName => CultureInfo.GetCultureInfo(Tag).NativeName;

    /// <summary>A text without places to fill; the key itself where no language has it.</summary>
    public string this[string key] => Texts.Find(key) ?? key;

    /// <summary>A text with its places filled: numbers and days are said by whoever hands them over.</summary>
    public string this[string key, params object?[] places] =>
        Texts.Find(key) is { } text ? string.Format(CultureInfo.InvariantCulture, text, places) : key;

    /// <summary>A text that need not be there; null where no language has it.</summary>
    public string? Find(string key) => Texts.Find(key);

    /// <summary>A longer text that has a file of its own.</summary>
    /// <param name="name">With its folder inside the language's: <c>Letters/OwnerRefit.liquid</c>.</param>
    /// <exception cref="InvalidOperationException">No language has it.</exception>
    public string Document(string name) => Texts.Document(name);

    public bool Equals(ReportLanguage other) => ReferenceEquals(Texts, other.Texts);

    public override bool Equals(object? obj) => obj is ReportLanguage other && Equals(other);

    public override int GetHashCode() => Tag.GetHashCode(StringComparison.Ordinal);

    public override string ToString() => Tag;

    public static bool operator ==(ReportLanguage left, ReportLanguage right) => left.Equals(right);

    public static bool operator !=(ReportLanguage left, ReportLanguage right) => !left.Equals(right);
}
