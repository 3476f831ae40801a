namespace BackHistory.Application.Demo;

/// <summary>Seeded chance: the same seed invents the same practice.</summary>
internal sealed class Chance(int seed)
{
    private readonly Random _random = new(seed);

    public double Uniform(double from, double to) => from + (to - from) * _random.NextDouble();

    public int Whole(int from, int to) => _random.Next(from, to + 1);

    public bool Happens(double probability) => _random.NextDouble() < probability;

    public T OneOf<T>(IReadOnlyList<T> choices) => choices[_random.Next(choices.Count)];

    /// <summary>Normal, by Box and Muller.</summary>
    public double Normal(double mean, double sd) =>
        mean + sd * Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    public Guid Id()
    {
        Span<byte> bytes = stackalloc byte[16];
        _random.NextBytes(bytes);
        bytes[6] = (byte)((bytes[6] & 0x0F) | 0x80);
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new Guid(bytes, bigEndian: true);
    }
}
