using BackHistory.Trends.Series;

namespace BackHistory.Trends.Robust;

/// <summary>
/// Order statistics of the slopes of all pairs of different days without keeping them all: a few are sorted; many are counted into
/// buckets by their leading bits first, and only the buckets that hold a wanted rank are sorted. Five thousand points have twelve million
/// slopes.
/// </summary>
internal sealed class SlopeOrder
{
    const int Few = 1 << 16,
        BucketBits = 20;

    readonly Observation[] _ordered;
    readonly double[]? _sorted;
    readonly int[]? _counts;

    internal SlopeOrder(Observation[] ordered)
    {
        _ordered = ordered;
        foreach (var _ in Slopes())
            Count++;
        if (Count <= Few)
        {
            _sorted = [.. Slopes()];
            Array.Sort(_sorted);
            return;
        }
        _counts = new int[1 << BucketBits];
        foreach (var slope in Slopes())
            _counts[Bucket(slope)]++;
    }

    internal int Count { get; }

    /// <summary>The slope of rank <paramref name="rank"/>, the smallest being 0.</summary>
    internal double At(int rank)
    {
        if (_sorted is not null)
            return _sorted[rank];
        int bucket = 0,
            before = 0;
        while (before + _counts![bucket] <= rank)
            before += _counts[bucket++];
        var held = new double[_counts[bucket]];
        var k = 0;
        foreach (var slope in Slopes())
            if (Bucket(slope) == bucket)
                held[k++] = slope;
        Array.Sort(held);
        return held[rank - before];
    }

    IEnumerable<double> Slopes()
    {
        for (var i = 0; i < _ordered.Length; i++)
        for (var j = i + 1; j < _ordered.Length; j++)
            if (!PairedDays.SameDay(_ordered[i], _ordered[j]))
                yield return (_ordered[j].Value - _ordered[i].Value) / (_ordered[j].Day - _ordered[i].Day);
    }

    /// <summary>The leading bits of a double, turned so that they sort as the numbers do.</summary>
    static int Bucket(double slope)
    {
        var bits = BitConverter.DoubleToInt64Bits(slope);
        var key = (ulong)(bits < 0 ? ~bits : bits ^ long.MinValue);
        return (int)(key >> (64 - BucketBits));
    }
}
