namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>What becomes of a horse after its saddle was set.</summary>
enum WorldFate
{
    /// <summary>S0: nothing.</summary>
    Steady,

    /// <summary>S0b: it opens and closes with the year, and its weight with it.</summary>
    SteadyWithSeason,

    /// <summary>A: both flanks at the shoulder open by two limits in six months, behind it by half of that.</summary>
    ShoulderOpens,

    /// <summary>B: one half loses 15 % of its area in three months, at one station or all along.</summary>
    LosesOneHalf,

    /// <summary>C1: the flanks of the whole back open by two limits in 18 to 30 months.</summary>
    WholeBackWidens,

    /// <summary>C2: fat covers the whole back until it is two limits wider, in 18 to 30 months, with weight and condition.</summary>
    Fattens,

    /// <summary>D: both halves lose 15 % all along in a lay-off of four months and recover over six.</summary>
    LosesAndRecovers,

    /// <summary>E: the topline sinks by 25 mm in two years.</summary>
    ToplineSinks,

    /// <summary>F: one station opens by two limits in six months, its neighbours do not.</summary>
    OneStation,

    /// <summary>G: as A, and from the middle of it another pair of hands traces.</summary>
    OpensAndHandsChange,

    /// <summary>I: a swelling of 15 mm on one side at one visit.</summary>
    Swelling,

    /// <summary>J: a three-year-old grows: wider by two limits in a year, and heavier.</summary>
    Grows,

    /// <summary>K1: the sides of one visit were taken for each other.</summary>
    SidesSwapped,

    /// <summary>K2: one station of one visit was traced 5° askew.</summary>
    StationAskew,

    /// <summary>K3: all of one visit was traced 5° askew.</summary>
    VisitAskew,
}
