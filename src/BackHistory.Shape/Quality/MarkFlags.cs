using BackHistory.Shape.Contours;
using BackHistory.Shape.Registration;

namespace BackHistory.Shape.Quality;

/// <summary>Marks that cannot lie where they were put.</summary>
internal static class MarkFlags
{
    private const double OffToplineMillimetres = 15;

    private static readonly string[] FromHeadToTail =
    [
        StationMarks.Shoulder,
        StationMarks.BehindShoulder,
        StationMarks.MidBack,
        StationMarks.LastRib,
    ];

    /// <summary>`marks-order`: stations that do not follow each other from head to tail, as when the ends were swapped.</summary>
    internal static void OutOfOrder(Registered tracing, List<QualityFlag> flags)
    {
        var known = FromHeadToTail.Where(tracing.Marks.ContainsKey).Select(name => tracing.Marks[name]).ToArray();
        for (var i = 0; i + 1 < known.Length; i++)
            if (known[i].X >= known[i + 1].X)
                flags.Add(new("marks-order", null, known[i], known[i + 1], known[i].X - known[i + 1].X));
    }

    /// <summary>`mark-off`: a mark more than 15 mm above or below the topline it was put on.</summary>
    internal static void OffTopline(Contour contour, List<QualityFlag> flags)
    {
        var topline = new Topline(contour);
        foreach (var (name, mark) in contour.Marks.OrderBy(m => m.Key, StringComparer.Ordinal))
            if (topline.At(name) is { } place && Math.Abs(place.At.Y - mark.Y) is var off and > OffToplineMillimetres)
                flags.Add(new("mark-off", null, mark, place.At, off));
    }

    /// <summary>`mark-side`: a mark named for one side that lies on the other.</summary>
    internal static void OnWrongSide(Registered tracing, List<QualityFlag> flags)
    {
        foreach (var (name, mark) in tracing.Marks.OrderBy(m => m.Key, StringComparer.Ordinal))
        {
            var side =
                name.EndsWith("-left", StringComparison.Ordinal) ? "left"
                : name.EndsWith("-right", StringComparison.Ordinal) ? "right"
                : null;
            if (side is null || mark.X == 0 || mark.X < 0 == (side == "left"))
                continue;
            flags.Add(new("mark-side", side, mark, new Point(0, mark.Y), Math.Abs(mark.X)));
        }
    }
}
