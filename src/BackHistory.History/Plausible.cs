using System.Globalization;

namespace BackHistory.History;

/// <summary>
/// What each number that is entered can be: of horses, of gauges, of rules and of calendars. Every decider asks here before it makes an
/// event, and whoever takes events in that others decided asks here too; the sizes of a tracing stand in
/// <see cref="Shape.Registration.PlausibleSizes"/>. Where a scale is published its source stands beside it; every other bound is an
/// engineering choice without a source, wide enough for every horse, beyond which lies a slip of the unit or the keyboard.
/// </summary>
public static class Plausible
{
    /// <summary>Of a yard, north of the equator; south is negative.</summary>
    public static PlausibleRange Latitude { get; } = new(-90, 90, "degrees");

    /// <summary>Of a yard, east of Greenwich; west is negative.</summary>
    public static PlausibleRange Longitude { get; } = new(-180, 180, "degrees");

    /// <summary>From a foal to the heaviest draught horse.</summary>
    public static PlausibleRange Weight { get; } = new(20, 1600, "kg");

    /// <summary>Girth, and length by tape.</summary>
    public static PlausibleRange Taped { get; } = new(500, 2800, "mm");

    /// <summary>At the withers or the croup.</summary>
    public static PlausibleRange Height { get; } = new(400, 2300, "mm");

    /// <summary>Body condition (Henneke et al. 1983), half points.</summary>
    public static PlausibleRange Condition { get; } = new(1, 9);

    /// <summary>Muscle (Herbst et al. 2022), half points.</summary>
    public static PlausibleRange Muscle { get; } = new(1, 4);

    /// <summary>An inclinometer laid on a flank, below horizontal.</summary>
    public static PlausibleRange FlankSlope { get; } = new(0, 90, "deg");

    /// <summary>An inclinometer laid along the topline.</summary>
    public static PlausibleRange ToplineSlope { get; } = new(-45, 45, "deg");

    /// <summary>A side of a picture that a camera took.</summary>
    public static PlausibleRange PictureSide { get; } = new(1, 50_000, "pixels");

    /// <summary>A known point on the paper that was photographed, and how far the map misses it.</summary>
    public static PlausibleRange OnPaper { get; } = new(-10_000, 10_000, "mm");

    /// <summary>A station along the back.</summary>
    public static PlausibleRange FromDatum { get; } = new(-500, 2500, "mm");

    /// <summary>What a mark of a gauge means, degrees or millimetres, and where it stands on the workshop's own scale.</summary>
    public static PlausibleRange GaugeMark { get; } = new(-10_000, 10_000);

    /// <summary>The size of a slip, in sds.</summary>
    public static PlausibleRange Limit { get; } = new(0, 10_000);

    /// <summary>A limit of change, in whatever unit the measure has: the least that is read off any instrument here.</summary>
    public static PlausibleRange Threshold { get; } = new(0.01, 10_000);

    /// <summary>A layer of noise, in whatever unit the measure has: no hand traces finer, and a trend cannot be weighed by less. A layer
    /// that adds nothing is 0.</summary>
    public static PlausibleRange Noise { get; } = new(0.01, 10_000);

    /// <summary>How far the leans of one visit may scatter, as a share of their mean.</summary>
    public static PlausibleRange LeanScatter { get; } = new(0.01, 10_000);

    /// <summary>A pace, limits a day: the least passes a limit in three hundred years.</summary>
    public static PlausibleRange Pace { get; } = new(0.00001, 10_000);

    /// <summary>How long a movement goes on as it began.</summary>
    public static PlausibleRange Persistence { get; } = new(1, 10_000, "days");

    /// <summary>How often a back begins to move in a year: the least is once in a thousand years.</summary>
    public static PlausibleRange MovesPerYear { get; } = new(0.001, 1000);

    /// <summary>How much a measure moves with a pattern, whatever its sign. One that does not move with it has 0.</summary>
    public static PlausibleRange Loading { get; } = new(0.001, 10_000);

    /// <summary>A loss that calls somebody: the least that scales and tapes tell.</summary>
    public static PlausibleRange Loss { get; } = new(0.1, 100, "%");

    /// <summary>A value of any measure in a table of repeats.</summary>
    public static PlausibleRange Measured { get; } = new(-100_000, 100_000);

    /// <summary>A loss or a change in per cent of what was there.</summary>
    public static PlausibleRange Percent { get; } = new(0, 100, "%");

    /// <summary>A number of a prior: a pace, a share, a factor.</summary>
    public static PlausibleRange Prior { get; } = new(-10_000, 10_000);

    /// <summary>A shim in a pad.</summary>
    public static PlausibleRange Shim { get; } = new(0, 80, "mm");

    /// <summary>Work.</summary>
    public static PlausibleRange HoursPerWeek { get; } = new(0, 24 * 7, "hours");

    /// <summary>No horse that is measured today was measured before.</summary>
    public const int FirstYear = 1980;

    /// <summary>How far ahead something is planned; people write a year far off for what has no end.</summary>
    public const int YearsAhead = 100;

    /// <summary>A clock in the yard may run a little fast.</summary>
    private static readonly TimeSpan ClockTolerance = TimeSpan.FromMinutes(10);

    /// <summary>Whether something can have happened then; null when it can.</summary>
    public static Refused? Happened(DateTimeOffset at, DateTimeOffset now) =>
        at > now + ClockTolerance ? InTheFuture(at)
        : at.Year < FirstYear ? TooLongAgo(at)
        : null;

    /// <summary>Whether a day can lie in a horse's life, or in a plan for it; null when it can.</summary>
    public static Refused? Day(DateOnly day, DateTimeOffset now) =>
        day.Year < FirstYear ? TooLongAgo(Midnight(day))
        : day.Year > now.Year + YearsAhead ? TooFarAhead(day)
        : null;

    public static Refused InTheFuture(DateTimeOffset at) =>
        new("in-the-future", $"{Say(at)} lies in the future. Nothing was saved; check the date.");

    public static Refused TooLongAgo(DateTimeOffset at) =>
        new("too-long-ago", $"{Say(at)} is before {FirstYear}. Nothing was saved; check the date.");

    private static Refused TooFarAhead(DateOnly day) =>
        new("too-far-ahead", $"{day:yyyy-MM-dd} lies more than {YearsAhead} years ahead. Nothing was saved; check the year.");

    private static DateTimeOffset Midnight(DateOnly day) => new(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);

    private static string Say(DateTimeOffset at) => at.ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
