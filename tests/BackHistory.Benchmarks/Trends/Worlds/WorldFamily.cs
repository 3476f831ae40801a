namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>Kinds of backs that are unlike each other.</summary>
enum WorldFamily
{
    Usual,
    Round,
    Flat,
    Narrow,
    MuttonWithered,
    Young,
    Old,
    Asymmetric,
}
