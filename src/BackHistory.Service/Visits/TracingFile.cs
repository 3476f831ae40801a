using System.Text.Json;
using BackHistory.Formats.Drawings;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Shape;

namespace BackHistory.Service.Visits;

/// <summary>A file with tracings as a visit's form takes it.</summary>
internal static class TracingFile
{
    public const int MostBytes = 4 << 20;

    private const double Noise = 1.0;

    private static readonly Refused TooLarge = new("too-large", $"The file is larger than {MostBytes >> 20} MB.");

    private static readonly Refused Unreadable = new(
        "unreadable",
        "The file is neither a table of points (.csv with the header x_mm,y_mm) nor JSON Lines. A photograph, a scan or a drawing is "
            + "traced at the desk."
    );

    private static readonly Refused NoTracing = new("not-a-tracing", "The file holds something else than tracings.");

    /// <param name="kind">Of a table, and what a file must hold where it says so itself; any where null.</param>
    /// <param name="station">Of cross-sections that do not name theirs.</param>
    public static async Task<(IReadOnlyList<TracingEntry> Entries, Refused? Refused)> Read(
        IFormFile file,
        TracingKind? kind,
        string? station,
        Func<Guid> newId,
        CancellationToken ct
    )
    {
        if (file.Length > MostBytes)
            return ([], TooLarge);
        using var memory = new MemoryStream();
        await file.CopyToAsync(memory, ct);
        var bytes = memory.ToArray();
        return file.FileName.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)
            ? Table(bytes, kind ?? TracingKind.CrossSection, station, newId)
            : Lines(bytes, kind, station, newId);
    }

    private static (IReadOnlyList<TracingEntry> Entries, Refused? Refused) Table(
        byte[] bytes,
        TracingKind kind,
        string? station,
        Func<Guid> newId
    )
    {
        var (tracing, bad) = TracingTable.Read(
            bytes,
            kind,
            kind == TracingKind.CrossSection ? station : null,
            Noise,
            TracingLimits.MostPoints
        );
        return bad is null ? ([new TracingEntry(newId(), tracing!)], null) : ([], new Refused(bad.Code, bad.Message));
    }

    /// <summary>JSON Lines in the form of the <c>measure</c> verb, one tracing a line, or one object over several.</summary>
    private static (IReadOnlyList<TracingEntry> Entries, Refused? Refused) Lines(
        byte[] bytes,
        TracingKind? kind,
        string? station,
        Func<Guid> newId
    )
    {
        var entries = new List<TracingEntry>();
        var reader = new Utf8JsonReader(bytes, new JsonReaderOptions { AllowMultipleValues = true, MaxDepth = 16 });
        try
        {
            while (reader.Read())
            {
                using var document = JsonDocument.ParseValue(ref reader);
                var (entry, refused) = EntryReader.Read(document.RootElement, newId);
                if (refused is not null)
                    return ([], refused with { Message = $"Tracing {entries.Count + 1} of the file: {refused.Message}" });
                if (entry is not TracingEntry traced)
                    return ([], NoTracing);
                if (Elsewhere(traced.Tracing, kind, station) is { } elsewhere)
                    return ([], elsewhere);
                entries.Add(
                    traced.Tracing is { Kind: TracingKind.CrossSection, Station: null } unnamed
                        ? traced with
                        {
                            Tracing = unnamed with { Station = station },
                        }
                        : traced
                );
            }

            return entries.Count == 0 ? ([], Unreadable) : (entries, null);
        }
        catch (JsonException)
        {
            return ([], Unreadable);
        }
    }

    /// <summary>A file that says of itself that it belongs elsewhere is not taken for what it was put to.</summary>
    private static Refused? Elsewhere(Tracing tracing, TracingKind? kind, string? station) =>
        kind is { } wanted && tracing.Kind != wanted
            ? new Refused(
                "wrong-kind",
                $"The file says it is a {(tracing.Kind == TracingKind.Topline ? "topline" : "cross-section")}. Put it there."
            )
        : kind == TracingKind.CrossSection && tracing.Station is { } named && named != station
            ? new Refused("wrong-station", $"The file says it was traced at “{named}”. Put it there.")
        : null;
}
