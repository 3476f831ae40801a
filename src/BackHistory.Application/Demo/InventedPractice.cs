using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Shape.Gauges;

namespace BackHistory.Application.Demo;

/// <summary>One step of the invented history: a command as a user would have given it on that day.</summary>
/// <param name="At">When it was given.</param>
internal sealed record InventedStep(DateTimeOffset At, Guid Stream, InventedCommand Command);

/// <summary>The commands that the invented practice gives.</summary>
internal abstract record InventedCommand
{
    public sealed record OfHorse(Func<Horse?, DateTimeOffset, Decided> Decide) : InventedCommand;

    /// <param name="HorseId">The horse that the work is for; its state comes with the command.</param>
    public sealed record OfSaddle(Guid HorseId, Func<Saddle?, Horse?, DateTimeOffset, Decided> Decide) : InventedCommand;
}

/// <summary>An invented practice: its people, its yards and the lives of its horses.</summary>
public sealed class InventedPractice
{
    public const string Name = "Invented Saddle Practice";
    public const string TimeZone = "Europe/Berlin";

    public InventedPractice(int seed, int horses, DateOnly today, int years)
    {
        var chance = new Chance(seed);
        Start = today.AddYears(-years);
        Manager = Staff(chance, "Mara Ledger", PersonRole.Manager);
        Fitters =
        [
            Staff(chance, "Tom Awl", PersonRole.Fitter),
            Staff(chance, "Ina Thread", PersonRole.Fitter),
            Staff(chance, "Leo Billet", PersonRole.Fitter),
        ];
        Owners = [.. Enumerable.Range(0, Math.Max(3, horses * 6 / 10)).Select(i => Owner(chance, i))];
        Yards = [.. Enumerable.Range(0, Math.Clamp(horses / 12, 2, 40)).Select(i => new Yard(chance.Id(), InventedNames.Yard(i), null))];
        // The ninth horse loses muscle on one side in the last months: the one that must go to a veterinary surgeon first.
        Horses =
        [
            .. Enumerable
                .Range(0, horses)
                .Select(i => new InventedHorse(this, chance.Whole(0, int.MaxValue - 1), i, today, losesOneSide: i == 8)),
        ];
    }

    /// <summary>The workshop's own gauge: its marks are engraved by hand and do not step evenly.</summary>
    public const string BenchGauge = "bench";

    public static ChangeGaugeTable Bench(Guid by) =>
        new(
            BenchGauge,
            "Bench gauge",
            "slope",
            "deg",
            [
                .. new[] { 22.0, 26.5, 30.5, 34, 37.2, 40.1, 43, 46, 49.4, 53.2, 57.5, 62.5 }.Select(
                    (degrees, i) => new GaugeMark((i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture), i + 1, degrees)
                ),
            ],
            "As measured at the bench.",
            by
        );

    private static readonly double[] Leans = [0.0, 0.3, -0.35];
    private static readonly double[] Shakes = [0.5, 0.7, 0.6];

    public DateOnly Start { get; }

    public Person Manager { get; }

    public IReadOnlyList<Person> Fitters { get; }

    public IReadOnlyList<Person> Owners { get; }

    public IReadOnlyList<Yard> Yards { get; }

    internal IReadOnlyList<InventedHorse> Horses { get; }

    public IEnumerable<object> Documents => [Manager, .. Fitters, .. Owners, .. Yards];

    /// <summary>Every pair of hands has its own lean and steadiness.</summary>
    internal static InventedHand HandOf(int fitter, Chance chance) =>
        new(Leans[fitter] + chance.Normal(0, 0.1), chance.Normal(0, 0.8), Shakes[fitter]);

    private static Person Staff(Chance chance, string name, PersonRole role) =>
        new(chance.Id(), name, $"{name.ToLowerInvariant().Replace(' ', '.')}@practice.invalid", null, null, role);

    private static Person Owner(Chance chance, int index)
    {
        var name = InventedNames.Person(chance);
        return new Person(
            chance.Id(),
            name,
            $"owner{index + 1}@owners.invalid",
            null,
            null,
            PersonRole.Owner,
            index % 7 == 3 ? "de" : "en"
        );
    }
}
