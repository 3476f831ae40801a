using System.Text.Json;
using System.Text.Json.Serialization;

namespace BackHistory.Store.Events;

/// <summary>The JSON in which the history lies.</summary>
public static class StoredJson
{
    /// <summary>
    /// How events and documents lie in the store: camel case, enums by their own name (an order of names may change, a name may not),
    /// points as [x, y].
    /// Reads what earlier releases wrote, too: any casing, enums as numbers.
    /// </summary>
    public static JsonSerializerOptions Options() =>
        new(JsonSerializerDefaults.Web)
        {
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            Converters = { new JsonStringEnumConverter(), new PointConverter(), new TimeConverter() },
        };
}
