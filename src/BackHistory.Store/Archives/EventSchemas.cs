using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization.Metadata;
using BackHistory.Shape;
using BackHistory.Store.Events;

namespace BackHistory.Store.Archives;

/// <summary>A JSON Schema (2020-12) for every version of every event that an archive or the feed can hold.</summary>
public static class EventSchemas
{
    private static readonly JsonSerializerOptions Json = Described();

    private static readonly JsonSchemaExporterOptions Options = new()
    {
        TreatNullObliviousAsNonNullable = true,
        TransformSchemaNode = Described,
    };

    /// <summary>By alias.</summary>
    public static IReadOnlyDictionary<string, JsonNode> All() =>
        EventAliases.All.ToDictionary(e => e.Value, e => SchemaOf(e.Key, e.Value), StringComparer.Ordinal);

    private static JsonNode SchemaOf(Type type, string alias)
    {
        var schema = Json.GetJsonSchemaAsNode(type, Options).AsObject();
        // Properties that are null are left out when they are written: none but those that cannot be null are demanded.
        return new JsonObject([
            new("$schema", "https://json-schema.org/draft/2020-12/schema"),
            new("title", alias),
            .. schema.Select(p => KeyValuePair.Create(p.Key, p.Value?.DeepClone())),
        ]);
    }

    /// <summary>As events are stored; a converter of ours would hide from the schema that a time is one.</summary>
    private static JsonSerializerOptions Described()
    {
        var options = new JsonSerializerOptions(StoredJson.Options()) { TypeInfoResolver = new DefaultJsonTypeInfoResolver() };
        options.Converters.Remove(options.Converters.Single(c => c is TimeConverter));
        return options;
    }

    private static JsonNode Described(JsonSchemaExporterContext context, JsonNode schema)
    {
        var type = Nullable.GetUnderlyingType(context.TypeInfo.Type) ?? context.TypeInfo.Type;
        if (type == typeof(Point))
            return new JsonObject
            {
                ["type"] = "array",
                ["items"] = new JsonObject { ["type"] = "number" },
                ["minItems"] = 2,
                ["maxItems"] = 2,
                ["description"] = "[x, y] in millimetres",
            };
        if (
            schema is JsonObject described
            && described["required"] is JsonArray required
            && described["properties"] is JsonObject properties
        )
        {
            var kept = required.Where(name => !MayBeNull(properties[name!.GetValue<string>()])).Select(n => n!.DeepClone()).ToArray();
            described.Remove("required");
            if (kept.Length > 0)
                described["required"] = new JsonArray(kept);
        }

        return schema;
    }

    private static bool MayBeNull(JsonNode? schema) =>
        schema switch
        {
            JsonObject o when o["type"] is JsonArray types => types.Any(t => t?.GetValue<string>() == "null"),
            JsonObject o when o["enum"] is JsonArray values => values.Any(v => v is null),
            JsonObject o => o["type"] is null && o["enum"] is null,
            _ => true,
        };
}
