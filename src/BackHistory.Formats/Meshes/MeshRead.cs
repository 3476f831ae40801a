using BackHistory.Shape;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Formats.Meshes;

/// <summary>Exactly one of the two is there.</summary>
public readonly record struct MeshRead(TriangleMesh? Mesh, Refusal? Refused);
