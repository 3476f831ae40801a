using System.Text.Json;
using System.Text.Json.Serialization;
using BackHistory.Shape;

namespace BackHistory.Store.Events;

/// <summary>A point is written as [x, y]: a tracing has hundreds.</summary>
internal sealed class PointConverter : JsonConverter<Point>
{
    public override Point Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType != JsonTokenType.StartArray)
            throw new JsonException("a point is written as [x, y]");
        reader.Read();
        var x = reader.GetDouble();
        reader.Read();
        var y = reader.GetDouble();
        reader.Read();
        return reader.TokenType == JsonTokenType.EndArray ? new Point(x, y) : throw new JsonException("a point has two coordinates");
    }

    public override void Write(Utf8JsonWriter writer, Point value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(value.X);
        writer.WriteNumberValue(value.Y);
        writer.WriteEndArray();
    }
}
