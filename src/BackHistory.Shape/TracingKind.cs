namespace BackHistory.Shape;

public enum TracingKind
{
    CrossSection,
    Topline,
}
