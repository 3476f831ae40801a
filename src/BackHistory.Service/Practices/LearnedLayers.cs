using BackHistory.Trends.Rules;

namespace BackHistory.Service.Practices;

/// <summary>Noise of one measure by repeats; in per cent of the value where <paramref name="Percent"/>.</summary>
/// <param name="Used">The pool has degrees of freedom enough to stand in place of the rule of thumb.</param>
public sealed record LearnedLayers(
    string Measure,
    string? Station,
    string? Method,
    string? By,
    bool Percent,
    NoiseFigure? Trace,
    NoiseFigure? Visit,
    NoiseFigure? Person,
    bool Used
);
