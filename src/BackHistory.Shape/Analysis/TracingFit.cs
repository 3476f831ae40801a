using BackHistory.Shape.Contours;

namespace BackHistory.Shape.Analysis;

/// <summary>
/// A tracing whose contour is fitted when it is first asked about, and not again: whether it can be measured, and what it measures. Two
/// who ask first at the same time both work it out, and get the same.
/// </summary>
public sealed class TracingFit(Tracing tracing)
{
    private Fitted? _fitted;

    private TracingAnswer? _answer;

    public Tracing Tracing => tracing;

    /// <summary>Why it cannot be measured; null when it can.</summary>
    public Refusal? Refused => Fit.Refused;

    /// <inheritdoc cref="TracingAnalysis.Analyse(Tracing)"/>
    public TracingAnswer Answer => _answer ??= TracingAnalysis.Analyse(Fit.Contour, Fit.Refused);

    private Fitted Fit
    {
        get
        {
            if (_fitted is { } known)
                return known;
            var (contour, refused) = TracingAnalysis.Trace(tracing);
            return _fitted = new Fitted(contour, refused);
        }
    }

    private sealed record Fitted(Contour? Contour, Refusal? Refused);
}
