using System.Globalization;

namespace BackHistory.Shape.Deformations;

/// <summary>
/// A cross-section as its own measures draw it, and what they read when it is deformed: the loadings of changes come from the horse and
/// not from a back that stands for all. Where muscle, fat and flank lie along the arc is common practice, no source.
/// </summary>
public sealed class SectionProfile
{
    private const double SquareMillimetresPerCm2 = 100,
        SlopeFrom = 40,
        SlopeTo = 140,
        UsualDepth = 150;

    /// <summary>The muscle beside the spine: a hump along the arc from M, mm.</summary>
    private const double MuscleMiddle = 90,
        MuscleHalf = 80,
        MuscleApart = 20;

    /// <summary>Over this arc the cover of fat comes up from the ridge, mm.</summary>
    private const double CoverRise = 60;

    /// <summary>The ribs below do not turn with the flank, mm of arc.</summary>
    private const double TurnsWhole = 150,
        TurnsNoMore = 350;

    private readonly ProfileArm _left,
        _right;

    private readonly Dictionary<string, DeformationGains> _known = new(StringComparer.Ordinal);

    private SectionProfile(ProfileArm left, ProfileArm right) => (_left, _right) = (left, right);

    /// <param name="value">Of a measure of this cross-section by its key, in the measure's unit; null where it was not taken.</param>
    /// <returns>Null where fewer than two widths are known, or they do not grow with depth.</returns>
    public static SectionProfile? From(Func<string, double?> value)
    {
        Span<double> depths = stackalloc double[4],
            left = stackalloc double[4],
            right = stackalloc double[4];
        var apart = value("half-area-left@100") is { } l && value("half-area-right@100") is { } r && l + r > 0 ? (r - l) / (r + l) : 0;
        var n = 0;
        foreach (var depth in (ReadOnlySpan<int>)[30, 60, 100, 150])
            if (value(string.Create(CultureInfo.InvariantCulture, $"width@{depth}")) is { } width)
                (depths[n], left[n], right[n++]) = (depth, width / 2 * (1 - apart), width / 2 * (1 + apart));
        return
            n >= 2
            && ProfileArm.Through(depths[..n], left[..n]) is { } leftArm
            && ProfileArm.Through(depths[..n], right[..n]) is { } rightArm
            ? new(leftArm, rightArm)
            : null;
    }

    /// <summary>What the deformations do to a measure; null for a measure that this does not know, or that is not covered.</summary>
    public DeformationGains? GainsOf(string measure)
    {
        if (_known.TryGetValue(measure, out var known))
            return known;
        var gains = new DeformationGains(
            Turn: Gain(d => (_left.Turned(-d, _ => 1), _right.Turned(d, _ => 1))),
            FlanksTurn: Gain(d => (Opened(_left, d), Opened(_right, d))),
            LeftMuscle: new(Left(-MuscleApart), Left(0), Left(MuscleApart)),
            RightMuscle: new(Right(-MuscleApart), Right(0), Right(MuscleApart)),
            Cover: Gain(d => (_left.Raised(s => d * Cover(s)), _right.Raised(s => d * Cover(s)))),
            LeftFlank: Gain(d => (Opened(_left, d), _right)),
            RightFlank: Gain(d => (_left, Opened(_right, d)))
        );
        if (!double.IsFinite(gains.Turn + gains.FlanksTurn + gains.LeftMuscle.Outer + gains.RightMuscle.Outer + gains.Cover))
            return null;
        return _known[measure] = gains;

        double Left(double further) => Gain(d => (_left.Raised(s => d * Muscle(s - further)), _right));

        double Right(double further) => Gain(d => (_left, _right.Raised(s => d * Muscle(s - further))));

        double Gain(Func<double, (ProfileArm Left, ProfileArm Right)> deformed)
        {
            var (more, less) = (deformed(1), deformed(-1));
            return (ValueOf(measure, more.Left, more.Right) - ValueOf(measure, less.Left, less.Right)) / 2;
        }
    }

    private static double ValueOf(string measure, ProfileArm left, ProfileArm right)
    {
        var cut = measure.IndexOf('@', StringComparison.Ordinal);
        var depth =
            cut >= 0 && double.TryParse(measure.AsSpan(cut + 1), NumberStyles.Float, CultureInfo.InvariantCulture, out var mm)
                ? mm
                : UsualDepth;
        return (cut < 0 ? measure : measure[..cut]) switch
        {
            "width" => left.Reach(depth) + right.Reach(depth),
            "slope-left" or "read-slope-left" => left.Slope(SlopeFrom, SlopeTo),
            "slope-right" or "read-slope-right" => right.Slope(SlopeFrom, SlopeTo),
            "opening" => 180 - left.Slope(SlopeFrom, SlopeTo) - right.Slope(SlopeFrom, SlopeTo),
            "skew-slope" => right.Slope(SlopeFrom, SlopeTo) - left.Slope(SlopeFrom, SlopeTo),
            "half-area-left" => left.Area(depth) / SquareMillimetresPerCm2,
            "half-area-right" => right.Area(depth) / SquareMillimetresPerCm2,
            "skew-area" => 200 * (right.Area(depth) - left.Area(depth)) / (right.Area(depth) + left.Area(depth)),
            _ => double.NaN,
        };
    }

    /// <summary>The flank turned outwards about the ridge: a piece turns by as much of it as it has come down to the flank.</summary>
    private static ProfileArm Opened(ProfileArm arm, double degrees)
    {
        var flank = arm.Slope(SlopeFrom, SlopeTo);
        return arm.Turned(-degrees, Share);

        double Share(double arc)
        {
            var (from, to) = (arm.At(Math.Max(0, arc - 2)), arm.At(Math.Min(arm.Length, arc + 2)));
            var steep = Math.Atan2(to.Depth - from.Depth, to.Out - from.Out) * 180 / Math.PI;
            return Math.Clamp(steep / flank, 0, 1) * Math.Clamp((TurnsNoMore - arc) / (TurnsNoMore - TurnsWhole), 0, 1);
        }
    }

    /// <summary>A cosine's hump of one at its middle.</summary>
    private static double Muscle(double arc)
    {
        var off = (arc - MuscleMiddle) / MuscleHalf;
        return Math.Abs(off) >= 1 ? 0 : Math.Pow(Math.Cos(Math.PI / 2 * off), 2);
    }

    private static double Cover(double arc) => 1 - Math.Exp(-(arc / CoverRise) * (arc / CoverRise));
}
