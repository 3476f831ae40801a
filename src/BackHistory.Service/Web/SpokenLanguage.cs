namespace BackHistory.Service.Web;

/// <summary>The language in which a page speaks, which its layout follows: English until the page says otherwise.</summary>
public sealed class SpokenLanguage
{
    public ReportLanguage Language { get; private set; }

    /// <summary>A layout is drawn before its page knows who reads it.</summary>
    public event EventHandler? Changed;

    public void Is(ReportLanguage language)
    {
        Language = language;
        Changed?.Invoke(this, EventArgs.Empty);
    }

    /// <summary>What the browser asks for, where nobody knows the reader.</summary>
    public static ReportLanguage Asked(HttpContext http) =>
        http
            .Request.GetTypedHeaders()
            .AcceptLanguage.Where(asked => asked.Quality is not 0)
            .OrderByDescending(asked => asked.Quality ?? 1)
            .Select(asked => asked.Value.ToString().Split('-')[0].ToLowerInvariant())
            .Where(Languages.Shipped.Knows)
            .Select(ReportLanguage.For)
            .FirstOrDefault();
}
