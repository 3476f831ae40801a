using System.Text;
using System.Text.Json;
using BackHistory.Shape.Analysis;

namespace BackHistory.Shape.Wire;

/// <summary>Answers the lines of the `measure` verb, one JSON object for one JSON object.</summary>
public static class MeasureLine
{
    /// <summary>
    /// The answer to one line, values unrounded; <c>Refused</c> tells whether the verb ends with status 1. <paramref name="lineNumber"/>
    /// counts from 1 and is given back where the line has no legible `id`.
    /// </summary>
    public static (string Json, bool Refused) Answer(string line, int lineNumber)
    {
        JsonDocument document;
        try
        {
            document = TracingJson.Open(Encoding.UTF8.GetBytes(line.TrimStart('\uFEFF')));
        }
        catch (UnreadableException unreadable)
        {
            return (Refuse(null, lineNumber, new Refusal(Refusal.Unreadable, unreadable.Message)), true);
        }
        using (document)
        {
            var id = Id(document.RootElement);
            var read = Read(document.RootElement, id);
            if (read.Tracing is not { } tracing)
                return (Refuse(id, lineNumber, read.Refused!), true);
            var answer = TracingAnalysis.Analyse(tracing);
            return answer.Refused is { } refusal ? (Refuse(id, lineNumber, refusal), true) : (Write(id!.Value, tracing, answer), false);
        }
    }

    private static TracingRead Read(JsonElement root, JsonElement? id)
    {
        try
        {
            var tracing = TracingJson.Parse(root, alsoKnown: "id");
            return id is null ? new Refusal(Refusal.Unreadable, "The field 'id' is missing, or neither text nor a number.") : tracing;
        }
        catch (UnreadableException unreadable)
        {
            return new Refusal(Refusal.Unreadable, unreadable.Message);
        }
    }

    /// <summary>The id, text or a number, to be given back as it came; null when there is none that can be read.</summary>
    private static JsonElement? Id(JsonElement root)
    {
        if (root.ValueKind != JsonValueKind.Object)
            return null;
        try
        {
            if (!root.TryGetProperty("id", out var id) || id.ValueKind is not (JsonValueKind.String or JsonValueKind.Number))
                return null;
            _ = id.ToString();
            return id;
        }
        catch (InvalidOperationException)
        {
            // Half a surrogate pair: no Unicode text, so nothing to give back.
            return null;
        }
    }

    private static string Refuse(JsonElement? id, int lineNumber, Refusal refusal) =>
        Json(writer =>
        {
            writer.WritePropertyName("id");
            if (id is { } known)
                known.WriteTo(writer);
            else
            {
                writer.WriteNullValue();
                writer.WriteNumber("line", lineNumber);
            }
            writer.WriteStartObject("refused");
            writer.WriteString("code", refusal.Code);
            writer.WriteString("message", refusal.Message);
            writer.WriteEndObject();
        });

    private static string Write(JsonElement id, Tracing tracing, TracingAnswer answer) =>
        Json(writer =>
        {
            writer.WritePropertyName("id");
            id.WriteTo(writer);
            if (tracing.Station is not null)
                writer.WriteString("station", tracing.Station);
            writer.WriteStartArray("measures");
            foreach (var measure in answer.Measures)
                WriteMeasure(writer, measure);
            writer.WriteEndArray();
            writer.WriteStartArray("flags");
            foreach (var flag in answer.Flags)
                WriteFlag(writer, flag);
            writer.WriteEndArray();
        });

    private static void WriteMeasure(Utf8JsonWriter writer, Measure measure)
    {
        writer.WriteStartObject();
        writer.WriteString("key", measure.Key);
        if (measure.Value is { } value)
            writer.WriteNumber("value", value);
        else
            writer.WriteNull("value");
        writer.WriteString("unit", measure.Unit);
        if (measure.Sd is { } sd)
            writer.WriteNumber("sd", sd);
        if (measure.Why is not null)
            writer.WriteString("why", measure.Why);
        writer.WriteEndObject();
    }

    private static void WriteFlag(Utf8JsonWriter writer, QualityFlag flag)
    {
        writer.WriteStartObject();
        writer.WriteString("flag", flag.Flag);
        if (flag.Measure is not null)
            writer.WriteString("measure", flag.Measure);
        writer.WriteString("side", flag.Side);
        writer.WritePropertyName("from");
        TracingJson.WritePoint(writer, flag.From);
        writer.WritePropertyName("to");
        TracingJson.WritePoint(writer, flag.To);
        writer.WriteNumber("length", flag.Length);
        writer.WriteEndObject();
    }

    private static string Json(Action<Utf8JsonWriter> body)
    {
        using var stream = new MemoryStream();
        using (var writer = new Utf8JsonWriter(stream))
        {
            writer.WriteStartObject();
            body(writer);
            writer.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length);
    }
}
