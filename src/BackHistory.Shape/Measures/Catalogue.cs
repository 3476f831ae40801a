namespace BackHistory.Shape;

/// <summary>All measures of one tracing, in the order of their tables.</summary>
internal static class Catalogue
{
    internal static List<Measure> Measure(Contour contour) =>
        contour.Kind == TracingKind.CrossSection ? SectionMeasures.Of(contour) : ToplineMeasures.Of(contour);
}
