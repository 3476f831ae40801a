namespace BackHistory.Shape.Quality;

/// <summary>A reading by hand and a tracing that cannot both be right.</summary>
/// <param name="Difference">reading less tracing, in the unit of both</param>
/// <param name="JointSd">√(sd² of the reading + sd² of the tracing)</param>
public sealed record Disagreement(string Key, string Unit, double Reading, double Tracing, double Difference, double JointSd);
