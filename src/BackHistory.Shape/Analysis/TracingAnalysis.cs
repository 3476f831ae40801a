using BackHistory.Shape.Contours;
using BackHistory.Shape.Measures;
using BackHistory.Shape.Quality;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Analysis;

/// <summary>From a tracing to its measures: register, smooth, measure, flag.</summary>
public static class TracingAnalysis
{
    /// <summary>Answers any tracing; what cannot be measured is refused by name, never thrown.</summary>
    public static TracingAnswer Analyse(Tracing tracing)
    {
        var (contour, refused) = Trace(tracing);
        return Analyse(contour, refused);
    }

    /// <param name="contour">Null where the tracing is refused.</param>
    internal static TracingAnswer Analyse(Contour? contour, Refusal? refused)
    {
        if (contour is null)
            return TracingAnswer.Refuse(refused!);
        var measures = Catalogue.Measure(contour);
        return new TracingAnswer(null, contour, measures, TracingQuality.Judge(contour, measures));
    }

    /// <summary>
    /// Why a tracing holds a number that no tracing of a horse has, whatever else may be wrong with it; null when every one of its numbers
    /// is plausible.
    /// </summary>
    public static Refusal? CheckSizes(Tracing tracing) =>
        TracingRegistration.Register(tracing).Refused is { Code: Refusal.NotFinite or Refusal.ImplausibleSize } refusal ? refusal : null;

    internal static (Contour? Contour, Refusal? Refused) Trace(Tracing tracing)
    {
        var (registered, refused) = TracingRegistration.Register(tracing);
        if (registered is null)
            return (null, refused);
        return Contour.From(registered) is { } contour
            ? (contour, null)
            : (null, new(Refusal.OffMidline, "The smoothed line does not pass over the midline mark."));
    }
}
