namespace BackHistory.Trends.Rules;

/// <summary>
/// By how much a measure of this very horse changes, in its unit, when its contour is deformed by one: worked out from the contour, for a
/// flat back widens more by a degree than a steep one.
/// </summary>
/// <param name="Turn">The whole cross-section turned by a degree clockwise, seen from behind; 0 for readings, which go by gravity.</param>
/// <param name="FlanksTurn">Both flanks turned outwards, by a degree each.</param>
/// <param name="LeftMuscle">More of muscle on the left, by the ways in which it may come: a hump here or there, or the
/// whole flank, turned by a degree, as the last.</param>
/// <param name="RightMuscle">The same on the right, as many ways.</param>
/// <param name="Cover">A millimetre of fat all over.</param>
/// <param name="Along">The station taken a millimetre further back, by what the horse measures at the stations beside it.</param>
public sealed record ContourGains(
    double Turn,
    double FlanksTurn,
    IReadOnlyList<double> LeftMuscle,
    IReadOnlyList<double> RightMuscle,
    double Cover,
    double Along = 0
)
{
    /// <summary>The left flank alone turned outwards by a degree: the last of the ways in which a side fills.</summary>
    internal double LeftFlank => LeftMuscle is [.., var flank] ? flank : 0;

    internal double RightFlank => RightMuscle is [.., var flank] ? flank : 0;

    /// <summary>Ways in which the deformation may lie on the contour: each is a loading of its own.</summary>
    internal IReadOnlyList<double> Of(Deformation deformation) =>
        deformation switch
        {
            Deformation.FlanksTurn => [FlanksTurn],
            Deformation.LeftMuscle => LeftMuscle,
            Deformation.RightMuscle => RightMuscle,
            Deformation.BothWaste => [.. LeftMuscle.Zip(RightMuscle, (l, r) => -l - r)],
            Deformation.LeftWastes => [.. LeftMuscle.Select(l => -l)],
            Deformation.RightWastes => [.. RightMuscle.Select(r => -r)],
            _ => [Cover],
        };
}
