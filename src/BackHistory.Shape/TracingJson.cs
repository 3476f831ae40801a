using System.Text.Json;

namespace BackHistory.Shape;

/// <summary>
/// The wire form of a tracing, as the `measure` verb and the HTTP interface take it. Fields: `kind`, `station`, `unit`, `yAxis`, `tail`
/// (toplines), `points`, `midline`, `level`, `marks`, `noise`. An unknown, doubled or missing field is `unreadable`.
/// </summary>
public static class TracingJson
{
    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 8, AllowDuplicateProperties = false };

    /// <summary>Reads one JSON object. Refuses as `unreadable`, `unknown-unit` or `not-finite`; never throws on any bytes.</summary>
    public static TracingRead Read(ReadOnlyMemory<byte> utf8)
    {
        try
        {
            using var document = Open(utf8);
            return Read(document.RootElement);
        }
        catch (UnreadableException unreadable)
        {
            return new Refusal(Refusal.Unreadable, unreadable.Message);
        }
    }

    internal static JsonDocument Open(ReadOnlyMemory<byte> utf8)
    {
        try
        {
            return JsonDocument.Parse(utf8, Strict);
        }
        catch (Exception broken) when (broken is JsonException or InvalidOperationException)
        {
            throw new UnreadableException($"This is not JSON that can be read: {broken.Message}");
        }
    }

    /// <inheritdoc cref="Read(ReadOnlyMemory{byte})"/>
    public static TracingRead Read(JsonElement element)
    {
        try
        {
            var tracing = Parse(element);
            return TracingForm.Check(tracing) is { } refusal ? refusal : tracing;
        }
        catch (UnreadableException unreadable)
        {
            return new Refusal(Refusal.Unreadable, unreadable.Message);
        }
    }

    /// <summary>Writes the wire form; what is read back equals what was written, number for number.</summary>
    public static void Write(Utf8JsonWriter writer, Tracing tracing)
    {
        writer.WriteStartObject();
        writer.WriteString("kind", tracing.Kind == TracingKind.CrossSection ? "cross-section" : "topline");
        if (tracing.Station is not null)
            writer.WriteString("station", tracing.Station);
        writer.WriteString("unit", tracing.Unit);
        writer.WriteString("yAxis", tracing.YAxisDown ? "down" : "up");
        if (tracing.Kind == TracingKind.Topline)
            writer.WriteString("tail", tracing.TailLeft ? "left" : "right");
        writer.WriteStartArray("points");
        foreach (var p in tracing.Points)
            WritePoint(writer, p);
        writer.WriteEndArray();
        if (tracing.Midline is { } midline)
        {
            writer.WritePropertyName("midline");
            WritePoint(writer, midline);
        }
        if (tracing.Level is { } level)
        {
            writer.WriteStartArray("level");
            WritePoint(writer, level.From);
            WritePoint(writer, level.To);
            writer.WriteEndArray();
        }
        if (tracing.Marks.Count > 0)
        {
            writer.WriteStartObject("marks");
            foreach (var mark in tracing.Marks.OrderBy(m => m.Key, StringComparer.Ordinal))
            {
                writer.WritePropertyName(mark.Key);
                WritePoint(writer, mark.Value);
            }
            writer.WriteEndObject();
        }
        writer.WriteNumber("noise", tracing.Noise);
        writer.WriteEndObject();
    }

    /// <summary>The wire form as UTF-8.</summary>
    public static byte[] Write(Tracing tracing)
    {
        using var stream = new MemoryStream();
        using (var writer = new Utf8JsonWriter(stream))
            Write(writer, tracing);
        return stream.ToArray();
    }

    internal static void WritePoint(Utf8JsonWriter writer, Point p)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(p.X);
        writer.WriteNumberValue(p.Y);
        writer.WriteEndArray();
    }

    /// <summary>
    /// Reads the fields; a null or oversized number becomes a value that is not finite, which <see cref="TracingForm"/> refuses in its
    /// turn.
    /// </summary>
    internal static Tracing Parse(JsonElement element, string? alsoKnown = null)
    {
        if (element.ValueKind != JsonValueKind.Object)
            throw new UnreadableException("A tracing is a JSON object.");
        try
        {
            return Fields(element, alsoKnown).ToTracing();
        }
        catch (InvalidOperationException broken)
        {
            // Thrown for text that no Unicode string can hold: half a surrogate pair, bytes that are not UTF-8.
            throw new UnreadableException(broken.Message);
        }
    }

    private static TracingFields Fields(JsonElement element, string? alsoKnown)
    {
        var fields = new TracingFields();
        foreach (var field in element.EnumerateObject())
            if (!fields.Take(field.Name, field.Value) && field.Name != alsoKnown)
                throw new UnreadableException($"The field '{field.Name}' is unknown.");
        return fields;
    }
}
