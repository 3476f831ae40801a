namespace BackHistory.Shape;

/// <summary>Where a named anatomical mark lies: outwards from M on its side, and down.</summary>
internal static class SectionMarks
{
    internal static IEnumerable<Measure> Of(Contour contour)
    {
        var covered = !contour.Gaps.Touch(contour.MidlineParameter, contour.MidlineParameter);
        foreach (var (name, at) in contour.Marks.OrderBy(m => m.Key, StringComparer.Ordinal))
        {
            var (key, outwards) = SideOf(name, at);
            yield return (covered ? outwards * at.X : Estimate.NotCovered).Named("mark-lateral@" + key, "mm");
            yield return (covered ? -at.Y : Estimate.NotCovered).Named("mark-depth@" + key, "mm");
        }
    }

    /// <summary>A mark that does not name its side gets the one it lies on.</summary>
    private static (string Key, double Outwards) SideOf(string name, Point at) =>
        name.EndsWith("-left", StringComparison.Ordinal) ? (name, -1)
        : name.EndsWith("-right", StringComparison.Ordinal) ? (name, 1)
        : at.X < 0 ? (name + "-left", -1) : (name + "-right", 1);
}
