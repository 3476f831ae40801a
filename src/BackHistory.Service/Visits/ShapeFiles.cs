using System.Globalization;
using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Service.Web;
using BackHistory.Shape;

namespace BackHistory.Service.Visits;

/// <summary>What drawings and meshes have in common where they come in.</summary>
internal static class ShapeFiles
{
    /// <summary>A hostile file is given up after this long.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    public static readonly Refused TooLong = new("too-large", "Reading the file took too long; thin it out.");

    public static readonly Refused UnknownFormat = new(
        "unknown-format",
        "Drawings come as svg, dxf or csv, meshes as obj, ply or stl.",
        Place: "format"
    );

    public static Task<IResult> Enter(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        byte[] body,
        IReadOnlyList<Tracing> tracings,
        CancellationToken ct
    ) =>
        VisitEntriesApi.Enter(
            http,
            runner,
            more,
            horseId,
            visitId,
            body,
            [.. tracings.Select((t, i) => new TracingEntry(NewIds.IdFor(http, "imported", i), t))],
            ct
        );

    /// <summary>So many finite numbers with commas between them; null where they are not that.</summary>
    public static double[]? Numbers(string text, int count)
    {
        var parts = text.Split(',');
        var numbers = new double[count];
        if (parts.Length != count)
            return null;
        for (var i = 0; i < count; i++)
            if (
                !double.TryParse(parts[i], NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i]) || !double.IsFinite(numbers[i])
            )
                return null;
        return numbers;
    }
}
