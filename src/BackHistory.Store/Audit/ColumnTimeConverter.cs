using System.Text.Json;
using System.Text.Json.Serialization;
using BackHistory.History;

namespace BackHistory.Store.Audit;

/// <summary>For a time that also lies in a column of its own: what is handed to the database as a parameter is cut, not rounded.</summary>
internal sealed class ColumnTimeConverter : JsonConverter<DateTimeOffset>
{
    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        Microseconds.Cut(reader.GetDateTimeOffset());

    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value);
}
