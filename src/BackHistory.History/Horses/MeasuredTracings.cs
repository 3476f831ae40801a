using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.History.Horses;

/// <summary>How a read model comes by the measures of a tracing as it lies in the history.</summary>
/// <param name="tracing">Made inside, since the event itself may be broken.</param>
internal delegate TracingMeasures Measuring(Func<Tracing> tracing, string? station);

/// <summary>
/// What tracings measured lately. A tracing is fitted when it is entered; what comes of it is taken from here when the read model follows
/// a moment later. It is found by everything that measuring looks at, to the bit: what is found is what measuring again would give, and
/// what is not found is measured. Bounded; the oldest go first.
/// </summary>
public sealed class MeasuredTracings
{
    /// <summary>A few kilobytes each.</summary>
    private const int Most = 2048;

    private readonly Lock _lock = new();
    private readonly Dictionary<string, TracingMeasures> _known = new(StringComparer.Ordinal);
    private readonly Queue<string> _oldest = new();

    /// <summary>How often a tracing was measured here, since nothing was known of it.</summary>
    internal int Measured { get; private set; }

    /// <inheritdoc cref="Measuring"/>
    internal TracingMeasures MeasuresOf(Func<Tracing> tracing, string? station) => MeasuresOf(tracing, station, []);

    /// <summary>The same, given tracings that were fitted already.</summary>
    internal Measuring Having(IReadOnlyList<TracingFit> fits)
    {
        if (fits.Count == 0)
            return MeasuresOf;
        var known = fits.Select(f => (Key: KeyOf(f.Tracing), Fit: f)).ToList();
        return (tracing, station) => MeasuresOf(tracing, station, known);
    }

    private TracingMeasures MeasuresOf(Func<Tracing> make, string? station, IReadOnlyList<(string Key, TracingFit Fit)> fits)
    {
        Tracing tracing;
        string bits;
        try
        {
            tracing = make();
            bits = KeyOf(tracing);
        }
        catch (Exception fault) when (ComputationFault.IsOurs(fault))
        {
            return TracingMeasures.Measure(make, station);
        }

        var key = $"{bits} {station}";
        lock (_lock)
            if (_known.TryGetValue(key, out var known))
                return known;
        var fit = fits.FirstOrDefault(f => f.Key == bits).Fit;
        var measured = fit is null ? TracingMeasures.Measure(() => tracing, station) : TracingMeasures.Measure(fit, station);
        lock (_lock)
        {
            Measured += fit is null ? 1 : 0;
            if (!_known.TryAdd(key, measured))
                return _known[key];
            _oldest.Enqueue(key);
            if (_oldest.Count > Most)
                _known.Remove(_oldest.Dequeue());
        }

        return measured;
    }

    /// <summary>Everything of a tracing that measuring looks at; its station is echoed only.</summary>
    private static string KeyOf(Tracing tracing)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> eight = stackalloc byte[8];
        hash.AppendData([(byte)tracing.Kind, tracing.YAxisDown ? (byte)1 : (byte)0, tracing.TailLeft ? (byte)1 : (byte)0]);
        Text(tracing.Unit);
        Number(tracing.Noise, eight);
        Count(tracing.Points.Length, eight);
        foreach (var p in tracing.Points)
            Place(p, eight);
        Places(tracing.Midline is { } midline ? [midline] : [], eight);
        Places(tracing.Level is { } level ? [level.From, level.To] : [], eight);
        Count(tracing.Marks.Count, eight);
        foreach (var (name, at) in tracing.Marks.OrderBy(m => m.Key, StringComparer.Ordinal))
        {
            Text(name);
            Place(at, eight);
        }

        return Convert.ToBase64String(hash.GetHashAndReset());

        void Number(double value, Span<byte> room)
        {
            BinaryPrimitives.WriteDoubleLittleEndian(room, value);
            hash.AppendData(room);
        }

        void Place(Point p, Span<byte> room)
        {
            Number(p.X, room);
            Number(p.Y, room);
        }

        void Count(int count, Span<byte> room)
        {
            BinaryPrimitives.WriteInt64LittleEndian(room, count);
            hash.AppendData(room);
        }

        void Places(IReadOnlyList<Point> places, Span<byte> room)
        {
            Count(places.Count, room);
            foreach (var p in places)
                Place(p, room);
        }

        void Text(string text)
        {
            Span<byte> room = stackalloc byte[8];
            var bytes = Encoding.UTF8.GetBytes(text);
            Count(bytes.Length, room);
            hash.AppendData(bytes);
        }
    }
}
