namespace BackHistory.Reports;

/// <summary>The language of the words that a chart, letter or sheet adds by itself. Sentences given by the caller stay as given.</summary>
public enum ReportLanguage
{
    English,
    German,
}
