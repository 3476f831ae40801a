namespace BackHistory.History.Practices;

/// <summary>The protocol that a practice starts with (method.md, section 1).</summary>
public static class Protocols
{
    /// <summary>T8, T13 and T18 are the sites of the published longitudinal study (Greve &amp; Dyson 2014); 102 mm is common practice, no
    /// source.</summary>
    public static IReadOnlyList<Station> Default { get; } =
    [
        new("shoulder", "over the widest part of the shoulder blade", null),
        new("behind-shoulder", "102 mm behind the shoulder station, about the 8th thoracic vertebra (T8)", 102),
        new("mid-back", "T13, counted forward from the last rib", null),
        new("last-rib", "T18, found by palpation; the saddle should not bear behind it", null),
    ];

    /// <summary>Where a tree is set and most is measured, in the protocol that a practice starts with.</summary>
    public const string UsualStation = "behind-shoulder";

    /// <summary>Behind the shoulder station, mm (common practice, no source).</summary>
    private const double UsualFromDatum = 102;

    /// <summary>The station that is shown where none was asked for: of those of the practice's own protocol the one that lies where a tree
    /// is set, as near as it has one.</summary>
    /// <param name="stations">A practice's protocol; it has at least one.</param>
    public static string UsualOf(IReadOnlyList<Station> stations) =>
        stations.FirstOrDefault(s => s.Key == UsualStation)?.Key
        ?? stations
            .Select(s => (s.Key, At: PlaceOf(s)))
            .OrderBy(s => s.At is { } at ? Math.Abs(at - UsualFromDatum) : double.PositiveInfinity)
            .First()
            .Key;

    /// <summary>Along the back from the datum, mm, where nothing was measured: as the protocol has it, else as is usual; null for a station
    /// of the practice's own that is found by hand.</summary>
    public static double? PlaceOf(Station station) => station.FromDatumMm ?? UsualFromDatumMm(station.Key);

    /// <summary>Along the back from the shoulder station, mm, where neither a topline nor the protocol says it (common practice, no
    /// source); null for a station of the practice's own.</summary>
    public static double? UsualFromDatumMm(string station) =>
        station switch
        {
            "shoulder" => 0,
            UsualStation => UsualFromDatum,
            "mid-back" => 290,
            "last-rib" => 440,
            _ => null,
        };
}
