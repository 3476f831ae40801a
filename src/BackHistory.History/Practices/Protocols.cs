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

    /// <summary>Where a tree is set and most is measured: shown where no station was asked for.</summary>
    public const string UsualStation = "behind-shoulder";

    /// <summary>Along the back from the shoulder station, mm, where neither a topline nor the protocol says it (common practice, no
    /// source); null for a station of the practice's own.</summary>
    public static double? UsualFromDatumMm(string station) =>
        station switch
        {
            "shoulder" => 0,
            UsualStation => 102,
            "mid-back" => 290,
            "last-rib" => 440,
            _ => null,
        };
}
