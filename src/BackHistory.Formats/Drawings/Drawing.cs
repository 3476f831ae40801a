using System.Collections.Immutable;
using BackHistory.Shape;
using BackHistory.Shape.Registration;

namespace BackHistory.Formats.Drawings;

/// <summary>Collects the lines of a file under its limits.</summary>
internal sealed class Drawing(ImportLimits limits, CancellationToken cancel)
{
    private readonly List<ImportedLine> lines = [];
    private int points,
        steps;

    /// <summary>To be called now and then in every loop whose length the file decides.</summary>
    internal void Breathe()
    {
        if ((++steps & 0xFFF) == 0)
            cancel.ThrowIfCancellationRequested();
    }

    /// <summary>Counts points that are about to be made, before they are.</summary>
    internal void Count(int more)
    {
        Breathe();
        if (more < 0 || (points += more) > limits.Points || points < 0)
            throw ImportException.TooLarge($"The drawing has more than {limits.Points} points.");
    }

    /// <summary>Adds a line in millimetres, y up; lines of a single point are no lines.</summary>
    internal void Add(string name, List<Point> line)
    {
        foreach (var p in line)
        {
            if (!p.IsFinite)
                throw new ImportException(Refusal.NotFinite, "A coordinate is no number, or too large to be a length.");
            if (!PlausibleSizes.OnSheet(p))
                throw new ImportException(PlausibleSizes.OffSheet.Code, PlausibleSizes.OffSheet.Message);
        }
        if (line.Count > 1)
            lines.Add(new ImportedLine(name, [.. line]));
    }

    internal ImmutableArray<ImportedLine> Finish()
    {
        if (lines.Count == 0)
            throw new ImportException(Refusal.NoLine, "The file holds no line that could be a contour.");
        return [.. lines.OrderByDescending(l => l.Length)];
    }
}
