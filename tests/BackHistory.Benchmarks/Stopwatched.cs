using System.Diagnostics;

namespace BackHistory.Benchmarks;

/// <summary>Times a piece of work after it is warm.</summary>
internal static class Stopwatched
{
    /// <summary>
    /// Milliseconds a run in the fastest of many batches, each long enough for the clock and shorter than a slice of the scheduler: on a
    /// shared machine everything slower measures the neighbours.
    /// </summary>
    internal static double Milliseconds(Action work, int batches = 500, double batchMilliseconds = 2)
    {
        for (var warm = Stopwatch.StartNew(); warm.Elapsed < TimeSpan.FromSeconds(1.5); )
            work();
        var once = Stopwatch.StartNew();
        work();
        var runs = Math.Max(1, (int)(batchMilliseconds / Math.Max(once.Elapsed.TotalMilliseconds, 1e-3)));
        var fastest = double.PositiveInfinity;
        for (var batch = 0; batch < batches; batch++)
        {
            var clock = Stopwatch.StartNew();
            for (var k = 0; k < runs; k++)
                work();
            fastest = Math.Min(fastest, clock.Elapsed.TotalMilliseconds / runs);
        }
        return fastest;
    }

    /// <summary>Kilobytes that one warm run allocates on its thread.</summary>
    internal static double AllocatedKilobytes(Action work)
    {
        for (var k = 0; k < 5; k++)
            work();
        var before = GC.GetAllocatedBytesForCurrentThread();
        work();
        return (GC.GetAllocatedBytesForCurrentThread() - before) / 1024.0;
    }
}
