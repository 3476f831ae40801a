namespace BackHistory.Shape.Deformations;

/// <summary>By how much a measure changes, in its unit, when the cross-section is deformed by one.</summary>
/// <param name="Turn">The whole, by a degree clockwise seen from behind: what a sheet or a horse that leans does.</param>
/// <param name="FlanksTurn">Both flanks outwards about the ridge, by a degree each.</param>
/// <param name="LeftMuscle">A millimetre more of muscle on the left at its fullest.</param>
/// <param name="RightMuscle">The same on the right.</param>
/// <param name="Cover">A millimetre of fat all over the flanks.</param>
/// <param name="LeftFlank">The left flank alone outwards about the ridge, by a degree.</param>
/// <param name="RightFlank">The right flank alone.</param>
public readonly record struct DeformationGains(
    double Turn,
    double FlanksTurn,
    MuscleGains LeftMuscle,
    MuscleGains RightMuscle,
    double Cover,
    double LeftFlank,
    double RightFlank
);
