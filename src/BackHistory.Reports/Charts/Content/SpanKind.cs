namespace BackHistory.Reports.Charts.Content;

public enum SpanKind
{
    LayOff,
    Illness,
    Work,
}
