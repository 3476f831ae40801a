using BackHistory.Shape.Tests.Reference;

namespace BackHistory.Shape.Tests.Wild;

/// <summary>
/// A noisy tracing of a made-up smooth back, with what is true of the back. Everything about it follows from its number: the family of
/// the back, how densely, evenly and noisily it was traced, from which side, and whether the noise was said right.
/// </summary>
internal sealed record WildTracing(int Number, string Kind, bool Sparse, Tracing Tracing, IReadOnlyDictionary<string, double> Truth)
{
    private const int OfOneBack = 4;
    private static readonly (string Name, double From, double To)[] Spacings = [("dense", 1.5, 3), ("middling", 4, 7), ("sparse", 8, 12)];
    private static readonly double[] Noises = [0.3, 0.8, 1.5];

    /// <summary>Noise as said over noise as it was: mostly right, now and then too small or too large.</summary>
    private static readonly double[] Said = [1, 1, 1, 0.7, 1.4];

    /// <summary>The tracings of one made-up back: numbers <see cref="OfOneBack"/>·back and the following.</summary>
    internal static IEnumerable<WildTracing> Of(int back)
    {
        var random = new Random(back);
        var family = BackFamily.All[back % BackFamily.All.Length];
        var made = new RandomBack(random, family);
        var truth = PolylineMeasures.Of(made.Exact().Points);
        for (var k = 0; k < OfOneBack; k++)
        {
            var spacing = One(Spacings);
            var (noise, said, steps) = (One(Noises), One(Said), One(Enum.GetValues<Steps>()));
            var apart = spacing.From + (spacing.To - spacing.From) * random.NextDouble();
            var tracing = made.Trace(random, apart, noise, steps) with { Noise = noise * said };
            if (random.Next(2) == 0)
                tracing = tracing with { Points = [.. tracing.Points.Reverse()] };
            var kind = FormattableString.Invariant($"{family.Name} {spacing.Name} {noise} {said}");
            yield return new(OfOneBack * back + k, kind, spacing.Name == "sparse", tracing, truth);
        }

        T One<T>(T[] of) => of[random.Next(of.Length)];
    }
}
