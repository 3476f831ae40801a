using BackHistory.Shape;

namespace BackHistory.Formats.Meshes;

/// <summary>What a cut at one station gave: exactly one of the two.</summary>
public sealed record MeshSection(string Station, double FromDatum, Tracing? Tracing, Refusal? Refused);
