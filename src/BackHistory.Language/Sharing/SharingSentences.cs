namespace BackHistory.Language.Sharing;

/// <summary>Why something about a horse's sharing was not done, to the person who asked for it.</summary>
public static class SharingSentences
{
    /// <param name="code">The refusal's.</param>
    public static string Refused(string code, ReportLanguage language = default) =>
        language.Find("share-refused." + code) ?? language["share-refused.other"];
}
