using BackHistory.Formats.Meshes;
using BackHistory.Shape;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Benchmarks.Shape;

/// <summary>A mesh of a million triangles cut at four stations.</summary>
internal static class MeshCutBenchmark
{
    internal static IEnumerable<Figure> Run()
    {
        var mesh = Tube(around: 1000, along: 500);
        var frame = new MeshFrame(default, new(0, 1, 0), new(0, 0, 1));
        (string, double)[] stations = [("shoulder", 50), ("behind-shoulder", 152), ("mid-back", 320), ("last-rib", 490)];
        void Work() => MeshCut.At(mesh, frame, stations);
        yield return new Figure(
            $"meshcut/{mesh.Triangles.Length}-triangles-4-stations",
            Stopwatched.Milliseconds(Work, batches: 7) / 1000,
            "limit",
            2,
            "s"
        );
    }

    private static TriangleMesh Tube(int around, int along)
    {
        var vertices = Enumerable
            .Range(0, around * (along + 1))
            .Select(k =>
            {
                var (sin, cos) = Math.SinCos(2 * Math.PI * (k % around) / around);
                return new Point3(200 * cos, 200 * sin, 600.0 * (k / around) / along);
            });
        var triangles = Enumerable
            .Range(0, around * along)
            .SelectMany(k =>
            {
                var (row, column, next) = (k / around, k % around, (k + 1) % around);
                var (a, b, c, d) = (row * around + column, row * around + next, (row + 1) * around + column, (row + 1) * around + next);
                return new[] { new Triangle(a, b, c), new Triangle(b, d, c) };
            });
        return new TriangleMesh([.. vertices], [.. triangles]);
    }
}
