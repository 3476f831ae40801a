using System.Text.Json;
using System.Text.Json.Serialization;

namespace BackHistory.Shape;

/// <summary>Lets a tracing inside any document take its wire form, so that what is stored is what was sent.</summary>
public sealed class TracingConverter : JsonConverter<Tracing>
{
    public override Tracing Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        using var document = JsonDocument.ParseValue(ref reader);
        try
        {
            return TracingJson.Parse(document.RootElement);
        }
        catch (UnreadableException unreadable)
        {
            throw new JsonException(unreadable.Message, unreadable);
        }
    }

    public override void Write(Utf8JsonWriter writer, Tracing value, JsonSerializerOptions options) => TracingJson.Write(writer, value);
}
