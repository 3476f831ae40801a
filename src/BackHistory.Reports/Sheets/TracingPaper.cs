namespace BackHistory.Reports.Sheets;

/// <summary>Paper of a tracing sheet, landscape. A cross-section with flanks is wider than A4.</summary>
public enum TracingPaper
{
    A4,
    A3,
    A2,
}
