using BackHistory.Shape;

namespace BackHistory.Formats.Meshes;

/// <summary>How a mesh lies: where the datum is, which ways are up and towards the tail, and how long its unit is.</summary>
/// <param name="Datum">in the coordinates of the mesh, on the median plane of the horse</param>
/// <param name="Up">any length; the vertical</param>
/// <param name="Tail">any length; only its horizontal part counts</param>
/// <param name="MillimetresPerUnit">1 for millimetres, 1000 for metres</param>
public sealed record MeshFrame(Point3 Datum, Point3 Up, Point3 Tail, double MillimetresPerUnit = 1);
