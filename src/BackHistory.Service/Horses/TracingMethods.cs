using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

/// <summary>The ways to trace that a form offers: the usual ones (common practice, no source), and whatever the horse was traced with
/// before. Under another name a series of numbers would begin anew.</summary>
internal static class TracingMethods
{
    private const string Usual = "flexible-curve";

    private static readonly string[] Known = [Usual, "contour-gauge", "photograph", "scan"];

    public static IReadOnlyList<string> Offered(IEnumerable<VisitRecord> visits) =>
        [.. Known.Concat(visits.Select(v => v.Method)).Where(m => m.Length > 0).Distinct(StringComparer.Ordinal)];

    /// <summary>The one of the horse's last visit: a change of method breaks its series.</summary>
    public static string Last(IEnumerable<VisitRecord> visits) =>
        visits.Where(v => !v.Withdrawn).OrderBy(v => v.TakenAt).LastOrDefault()?.Method is { Length: > 0 } last ? last : Usual;
}
