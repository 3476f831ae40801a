namespace BackHistory.Language.Visits;

/// <summary>With what a visit was measured.</summary>
public static class MethodWords
{
    /// <summary>As it is said of a visit; what a practice calls otherwise stays as it stands.</summary>
    /// <param name="method">As it is kept, for example <c>flexible-curve</c>.</param>
    public static string InWords(string method, ReportLanguage language = default) => language.Find("tracing-method." + method) ?? method;
}
