namespace BackHistory.Service.Reminders;

/// <summary>What comes before any change of the saddle where a caution stands, on pages and papers alike.</summary>
internal static class VetFirstWords
{
    /// <summary>What the caution found follows it.</summary>
    public static string Heading => ReportLanguage.English["bench.vet-first"];

    /// <param name="day">The day on which the caution was raised, by the practice's clock.</param>
    public static string Since(DateTimeOffset day) => ReportLanguage.English["bench.caution-since", Formatter.Metric.Day(day)];
}
