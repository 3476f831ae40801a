using BackHistory.Shape.Contours;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Quality;

/// <summary>What a person should look at before trusting a tracing: each judge adds its flags, none drops data.</summary>
internal static class TracingQuality
{
    internal const double TiltedDegrees = 15;
    internal const double MidlineOffMillimetres = 3;

    internal static List<QualityFlag> Judge(Contour contour, IReadOnlyList<Measure> measures)
    {
        var flags = new List<QualityFlag>();
        LevelTilt(contour.Registered, flags);
        if (contour.Kind == TracingKind.CrossSection)
        {
            MidlineOff(contour.Registered, flags);
            HalvesApart.Judge(contour.Registered, flags);
            EndCurl.Judge(contour.Left!, flags);
            EndCurl.Judge(contour.Right!, flags);
            MarkFlags.OnWrongSide(contour.Registered, flags);
        }
        else
        {
            MarkFlags.OutOfOrder(contour.Registered, flags);
            MarkFlags.OffTopline(contour, flags);
        }
        SecondPass.Judge(contour.Registered, flags);
        Gaps(contour.Registered, flags);
        UncertainMeasures.Judge(contour, measures, flags);
        return flags;
    }

    /// <summary>
    /// `level-tilt`: the level line lay more than 15° off the axes of the sheet. Its place is the level line, its length that line's.
    /// </summary>
    private static void LevelTilt(Registered tracing, List<QualityFlag> flags)
    {
        if (tracing.Level is not { } level || Math.Abs(tracing.TiltDegrees) <= TiltedDegrees)
            return;
        flags.Add(new("level-tilt", null, level.From, level.To, (level.To - level.From).Length));
    }

    /// <summary>`midline-off`: the midline mark lies more than 3 mm from the traced line.</summary>
    private static void MidlineOff(Registered tracing, List<QualityFlag> flags)
    {
        var off = (tracing.NearestToMidline - tracing.Midline).Length;
        if (off > MidlineOffMillimetres)
            flags.Add(new("midline-off", null, tracing.Midline, tracing.NearestToMidline, off));
    }

    /// <summary>`gap`: neighbouring points more than 25 mm apart.</summary>
    private static void Gaps(Registered tracing, List<QualityFlag> flags)
    {
        for (var i = 0; i + 1 < tracing.Count; i++)
        {
            var (from, to) = (tracing[i], tracing[i + 1]);
            var length = (to - from).Length;
            if (length <= Contours.Gaps.FlaggedMillimetres)
                continue;
            if (tracing.Kind == TracingKind.Topline)
            {
                flags.Add(new("gap", null, from, to, length));
                continue;
            }
            if (Math.Abs(from.X) > Math.Abs(to.X))
                (from, to) = (to, from);
            flags.Add(new("gap", to.X < 0 ? "left" : "right", from, to, length));
        }
    }
}
