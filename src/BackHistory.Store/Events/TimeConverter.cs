using System.Text.Json;
using System.Text.Json.Serialization;
using BackHistory.History;

namespace BackHistory.Store.Events;

/// <summary>A time that was written with more than microseconds, by a caller or an earlier release, is read as the database reads
/// it.</summary>
public sealed class TimeConverter : JsonConverter<DateTimeOffset>
{
    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        Microseconds.AsRead(reader.GetDateTimeOffset());

    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value);
}
