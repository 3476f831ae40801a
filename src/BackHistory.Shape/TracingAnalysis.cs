namespace BackHistory.Shape;

/// <summary>From a tracing to its measures: register, smooth, measure, flag.</summary>
public static class TracingAnalysis
{
    /// <summary>Answers any tracing; what cannot be measured is refused by name, never thrown.</summary>
    public static TracingAnswer Analyse(Tracing tracing)
    {
        var (registered, refused) = Registration.Register(tracing);
        if (registered is null) return TracingAnswer.Refuse(refused!);
        if (Contour.Of(registered) is not { } contour)
            return TracingAnswer.Refuse(new(Refusal.OffMidline, "The smoothed line does not pass over the midline mark."));
        return new TracingAnswer(null, contour, Catalogue.Measure(contour), Quality.Judge(contour));
    }
}
