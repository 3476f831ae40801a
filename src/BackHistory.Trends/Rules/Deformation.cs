namespace BackHistory.Trends.Rules;

/// <summary>What a contour does when a pattern grows.</summary>
public enum Deformation
{
    /// <summary>Both flanks turn outwards.</summary>
    FlanksTurn,

    /// <summary>Muscle comes on one side.</summary>
    LeftMuscle,
    RightMuscle,

    /// <summary>Muscle goes on one side.</summary>
    LeftWastes,
    RightWastes,

    /// <summary>Muscle goes on both.</summary>
    BothWaste,

    /// <summary>Fat covers it.</summary>
    Cover,
}
