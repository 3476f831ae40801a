namespace BackHistory.Trends.Rules;

/// <summary>The rules of thumb that a practice starts from: common practice in the trade or an engineering choice, no source.</summary>
static class DefaultRules
{
    internal static readonly IReadOnlyList<ThresholdRule> Thresholds =
    [
        new("slope-left", 4),
        new("slope-right", 4),
        new("read-slope-left", 4),
        new("read-slope-right", 4),
        new("opening", 6),
        new("width@100", 12),
        new("half-area-left@100", 8, PercentOfBaseline: true),
        new("half-area-right@100", 8, PercentOfBaseline: true),
        new("topline-drop", 15),
        new("skew-slope", 4),
        new("skew-shape", 6),
        new("weight", 5, PercentOfBaseline: true),
        new("condition", 1),
    ];

    internal static readonly IReadOnlyList<NoiseRule> Noise =
    [
        new("width", 2.5, 4, 4, Breathes: 1),
        new("width-ratio", 2, 3, 3, Percent: true),
        new("slope-left", 1, 1.5, 1.5, Breathes: -1),
        new("slope-right", 1, 1.5, 1.5, Breathes: -1),
        new("read-slope-left", 1, 1.5, 1.5, Breathes: -1),
        new("read-slope-right", 1, 1.5, 1.5, Breathes: -1),
        // Sums and differences of two slopes: √2 times the layers of one.
        new("opening", 1.4, 2.1, 2.1, Breathes: 1),
        new("skew-slope", 1.4, 2.1, 2.1),
        new("half-area-left", 2, 3, 3, Percent: true, Breathes: 1),
        new("half-area-right", 2, 3, 3, Percent: true, Breathes: 1),
        new("fill-left", 2, 3, 3),
        new("fill-right", 2, 3, 3),
        // 200·(right − left)/(right + left) of two areas at 2 % and 3 %: √2 times those, in points of per cent.
        new("skew-area", 2.8, 4.2, 4.2),
        new("skew-shape", 1, 1.5, 1.5),
        new("ridge-radius", 10, 15, 15, Percent: true),
        new("topline-drop", 3, 8, 8),
        new("topline-drop-place", 0.05, 0.08, 0.08),
        new("topline-slope", 0.7, 1.5, 1.5),
        new("panel-radius", 5, 10, 10, Percent: true),
        new("bearing-length", 5, 10, 10),
        new("half-volume-left", 2, 4, 4, Percent: true),
        new("half-volume-right", 2, 4, 4, Percent: true),
        new("mark-lateral", 4, 6, 6),
        new("mark-depth", 4, 6, 6),
        new("weight", 1, 1.5, 1, Percent: true),
        new("condition", 0.25, 0.3, 0.3),
        new("muscle", 0.25, 0.3, 0.3),
    ];

    internal static readonly IReadOnlyList<DerivedMeasure> Derived =
    [
        new("opening", ["slope-left", "slope-right"]),
        new("skew-slope", ["slope-left", "slope-right"]),
        new("skew-area@100", ["half-area-left@100", "half-area-right@100"]),
        new("width-ratio", ["width@30", "width@150"]),
        // A lean of one degree moves it by three millimetres, in no direction of its own: what it says of the back the halves say better.
        new("skew-shape", ["half-area-left@100", "half-area-right@100"]),
    ];

    // A straight flank of 45° that turns about the ridge: a degree on each side is 0.25 limits of slope, 0.37 of width@100, 0.17 of half
    // area. Size 1 is where the first of them reaches its limit.
    static readonly PatternLoading[] Opening =
    [
        new("width@100", 1),
        new("slope-left", -0.67),
        new("slope-right", -0.67),
        new("read-slope-left", -0.67),
        new("read-slope-right", -0.67),
        new("half-area-left", 0.45),
        new("half-area-right", 0.45),
    ];

    // Muscle lost on both sides.
    static readonly PatternLoading[] Wasting =
    [
        new("half-area-left", -1),
        new("half-area-right", -1),
        new("slope-left", 0.5),
        new("slope-right", 0.5),
        new("read-slope-left", 0.5),
        new("read-slope-right", 0.5),
        new("width@100", -0.8),
    ];

    // Muscle lost or gained on one side: the area first, the slope and half of the width with it; the sides grow unlike. The other side
    // is watched with a loading of 0: that it did not move is half of the evidence.
    static PatternLoading[] Loses(string side, string other) => OneSide(side, other, -1);

    static PatternLoading[] Fills(string side, string other) => OneSide(side, other, 1);

    static PatternLoading[] OneSide(string side, string other, int sign) =>
        [
            new($"half-area-{side}", sign),
            new($"slope-{side}", -0.5 * sign),
            new($"read-slope-{side}", -0.5 * sign),
            new("width@100", 0.4 * sign),
            new("skew-shape", 0.6),
            new($"half-area-{other}", 0),
            new($"slope-{other}", 0),
            new($"read-slope-{other}", 0),
        ];

    internal static readonly IReadOnlyList<ChangePattern> Patterns =
    [
        new(
            "opens",
            PatternScope.EachStation,
            4,
            Opening,
            "has opened on both sides",
            "has narrowed on both sides",
            Essential: true,
            Deformation: Deformation.FlanksTurn
        ),
        new(
            "left-loses",
            PatternScope.EachStation,
            2,
            Loses("left", "right"),
            "has lost shape on the left",
            "has regained shape on the left",
            Deformation: Deformation.LeftWastes
        ),
        new(
            "right-loses",
            PatternScope.EachStation,
            2,
            Loses("right", "left"),
            "has lost shape on the right",
            "has regained shape on the right",
            Deformation: Deformation.RightWastes
        ),
        new(
            "left-fills",
            PatternScope.EachStation,
            1,
            Fills("left", "right"),
            "has filled on the left",
            "has lost shape on the left",
            Deformation: Deformation.LeftMuscle
        ),
        new(
            "right-fills",
            PatternScope.EachStation,
            1,
            Fills("right", "left"),
            "has filled on the right",
            "has lost shape on the right",
            Deformation: Deformation.RightMuscle
        ),
        new(
            "both-lose",
            PatternScope.EachStation,
            2,
            Wasting,
            "has lost muscle on both sides",
            "has gained muscle on both sides",
            Deformation: Deformation.BothWaste
        ),
        new(
            "front-opens",
            PatternScope.Together,
            2,
            Opening,
            "the front of the back has opened",
            "the front of the back has narrowed",
            Stations: ["shoulder", "behind-shoulder"],
            Deformation: Deformation.FlanksTurn
        ),
        new(
            "back-opens",
            PatternScope.Together,
            3,
            [.. Opening, new("weight", 1), new("condition", 1)],
            "the whole back has opened",
            "the whole back has narrowed",
            Deformation: Deformation.FlanksTurn
        ),
        new(
            "left-side-loses",
            PatternScope.Together,
            1,
            Loses("left", "right"),
            "the left side has lost shape",
            "the left side has filled",
            Deformation: Deformation.LeftWastes
        ),
        new(
            "right-side-loses",
            PatternScope.Together,
            1,
            Loses("right", "left"),
            "the right side has lost shape",
            "the right side has filled",
            Deformation: Deformation.RightWastes
        ),
        new(
            "back-loses",
            PatternScope.Together,
            3,
            Wasting,
            "the whole back has lost muscle",
            "the whole back has gained muscle",
            Deformation: Deformation.BothWaste
        ),
        new(
            "back-covers",
            PatternScope.Together,
            1,
            [.. Opening, new("weight", 1), new("condition", 1)],
            "the whole back has put on cover",
            "the whole back has lost cover",
            Deformation: Deformation.Cover
        ),
        // One measure, and as common as any: what the years do.
        new("topline-sinks", PatternScope.Together, 4, [new("topline-drop", 1)], "the topline has sunk", "the topline has risen"),
        new(
            "gains-weight",
            PatternScope.Together,
            1,
            [new("weight", 1), new("condition", 1)],
            "the horse has gained weight",
            "the horse has lost weight"
        ),
    ];
}
