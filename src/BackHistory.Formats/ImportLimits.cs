namespace BackHistory.Formats;

/// <summary>
/// How much of a foreign file is suffered. All work is bounded by these numbers; a caller bounds time with its cancellation token.
/// </summary>
/// <param name="Bytes">of a file with contours</param>
/// <param name="Points">of all contours together, curves flattened</param>
/// <param name="MeshBytes">of a file with a mesh</param>
/// <param name="Triangles">of a mesh, and as many corners</param>
public sealed record ImportLimits(long Bytes = 32L << 20, int Points = 200_000, long MeshBytes = 512L << 20, int Triangles = 5_000_000)
{
    public static ImportLimits Default { get; } = new();
}
