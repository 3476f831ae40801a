using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace BackHistory.Trends.Lines;

/// <summary>Writes one line of JSON: values unrounded, null where there is none.</summary>
internal static class AnswerLine
{
    static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    // A repeated field leaves open which value is meant; RFC 8259 calls the outcome unpredictable.
    static readonly JsonDocumentOptions Strict = new() { AllowDuplicateProperties = false };

    internal static string Write(Action<Utf8JsonWriter> body)
    {
        var buffer = new ArrayBufferWriter<byte>(512);
        using (var json = new Utf8JsonWriter(buffer, Options))
        {
            json.WriteStartObject();
            body(json);
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    internal static string Refused(string? id, int line, LineRefusal refusal) =>
        Write(json =>
        {
            json.WriteString("id", id);
            if (id is null)
                json.WriteNumber("line", line);
            json.WriteStartObject("refused");
            json.WriteString("code", refusal.Name);
            json.WriteString("message", refusal.Message);
            json.WriteEndObject();
        });

    internal static void Number(this Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } v)
            json.WriteNumber(name, v);
        else
            json.WriteNull(name);
    }

    /// <summary>The line as JSON, or the reason why it is none.</summary>
    internal static JsonDocument? Parse(string line, out LineRefusal? refusal)
    {
        refusal = null;
        try
        {
            return JsonDocument.Parse(line, Strict);
        }
        catch (JsonException e)
        {
            refusal = new(RefusalCode.Unreadable, $"Not JSON: {e.Message}");
            return null;
        }
    }

    /// <summary>The line's id where one can be read, for the answer of a refused line.</summary>
    internal static string? IdOf(JsonElement root)
    {
        if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("id", out var id) || id.ValueKind != JsonValueKind.String)
            return null;
        try
        {
            return id.GetString();
        }
        catch (InvalidOperationException)
        {
            // Half of a surrogate pair: JSON, but no text.
            return null;
        }
    }
}
