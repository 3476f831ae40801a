using System.Globalization;

namespace BackHistory.Shape.Tests.Wild;

/// <summary>A measure that differs from the general spline's, with what explains it.</summary>
internal sealed record WildDifference(WildTracing Of, string Measure, double Ours, double Sd, bool Flagged, double Theirs, double Truth)
{
    /// <summary>By chance one in two million normal errors is larger than so many standard errors.</summary>
    private const double Chance = 5;

    internal bool TheirsIsFurther => Math.Abs(Theirs - Truth) >= Math.Abs(Ours - Truth);

    /// <summary>
    /// The points leave the measure so uncertain, and it says so without being flagged: a gap beside it, a ridge between two points.
    /// </summary>
    internal bool WithinItsError => !Flagged && Math.Abs(Ours - Truth) <= Chance * Sd;

    internal bool Explained => TheirsIsFurther || WithinItsError;

    public override string ToString() =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Of.Number} ({Of.Kind}) {Measure}: {Ours:0.00} ± {Sd:0.00}, general spline {Theirs:0.00}, truth {Truth:0.00}"
        );
}
