using BackHistory.Shape.Contours;
using BackHistory.Shape.Errors;

namespace BackHistory.Shape.Measures;

/// <summary>All measures of one tracing, in the order of their tables.</summary>
internal static class Catalogue
{
    internal static List<Measure> Measure(Contour contour)
    {
        using var errors = new Sensitivity(contour.Fit, contour.Noise);
        return contour.Kind == TracingKind.CrossSection
            ? SectionMeasures.Measure(contour, errors)
            : ToplineMeasures.Measure(contour, errors);
    }
}
