using System.Text.Json;
using System.Text.Json.Nodes;

namespace BackHistory.Attack.Tests.Requests;

/// <summary>The places of a body at which something else can stand.</summary>
internal static class Fields
{
    /// <summary>What the writer of JSON would not write is put into its text in this one's place.</summary>
    private const string Here = "@@here@@";

    private const int Short = 12;

    /// <summary>Every place of an honest body, from the whole to the leaves, and every field of the schema that it does not fill.</summary>
    public static IReadOnlyList<Field> Of(JsonNode body, JsonNode? schema, JsonNode document)
    {
        var found = new List<Field> { new([], KindOf(body)) };
        Walk(body, Resolved(schema, document), document, [], found, 0);
        return found;
    }

    /// <summary>The body with another value at one place, as text.</summary>
    public static string With(JsonNode body, IReadOnlyList<object> path, string json)
    {
        if (path.Count == 0)
            return json;
        var copy = body.DeepClone();
        var holder = copy;
        foreach (var step in path.SkipLast(1))
            holder = step is string name ? holder![name] : holder![(int)step];
        if (path[^1] is string last)
            holder!.AsObject()[last] = Here;
        else
            holder!.AsArray()[(int)path[^1]] = Here;
        return copy.ToJsonString().Replace($"\"{Here}\"", json, StringComparison.Ordinal);
    }

    /// <summary>The body without one of its fields.</summary>
    public static string Without(JsonNode body, IReadOnlyList<object> path)
    {
        var text = With(body, path, $"\"{Here}\"");
        var node = JsonNode.Parse(text)!;
        var holder = node;
        foreach (var step in path.SkipLast(1))
            holder = step is string name ? holder![name] : holder![(int)step];
        if (path is [.., string last])
            holder!.AsObject().Remove(last);
        else if (path is [.., int at])
            holder!.AsArray().RemoveAt(at);
        return node.ToJsonString();
    }

    /// <summary>The body with one of its fields standing there twice.</summary>
    public static string Twice(JsonNode body, IReadOnlyList<object> path)
    {
        if (path is not [.., string last])
            return body.ToJsonString();
        var value = Value(body, path)?.ToJsonString() ?? "null";
        return With(body, path, $"{value},{JsonSerializer.Serialize(last)}:{value}");
    }

    public static JsonNode? Value(JsonNode body, IReadOnlyList<object> path)
    {
        JsonNode? at = body;
        foreach (var step in path)
            at = step is string name ? at?[name] : at?[(int)step];
        return at;
    }

    /// <summary>What the description says of a place; null where it says nothing.</summary>
    public static JsonNode? SchemaOf(JsonNode? schema, IReadOnlyList<object> path, JsonNode document)
    {
        var at = Resolved(schema, document);
        foreach (var step in path)
            at = Resolved(step is string name ? at?["properties"]?[name] : at?["items"], document);
        return at;
    }

    private static void Walk(JsonNode? node, JsonNode? schema, JsonNode document, IReadOnlyList<object> path, List<Field> found, int depth)
    {
        if (depth > 8)
            return;
        if (node is JsonObject o)
        {
            var properties = schema?["properties"]?.AsObject();
            foreach (var (name, value) in o)
            {
                var inside = Resolved(properties?[name], document);
                IReadOnlyList<object> at = [.. path, name];
                found.Add(new Field(at, KindOf(inside, value)));
                Walk(value, inside, document, at, found, depth + 1);
            }

            foreach (var (name, inside) in properties ?? [])
            {
                if (!o.ContainsKey(name))
                    found.Add(new Field([.. path, name], KindOf(Resolved(inside, document), null)));
            }
        }
        else if (node is JsonArray array)
        {
            // The first, one in the middle and the last stand for all of a long list.
            foreach (var i in array.Count <= Short ? Enumerable.Range(0, array.Count) : [0, array.Count / 2, array.Count - 1])
            {
                var inside = Resolved(schema?["items"], document);
                IReadOnlyList<object> at = [.. path, i];
                found.Add(new Field(at, KindOf(inside, array[i])));
                Walk(array[i], inside, document, at, found, depth + 1);
            }
        }
    }

    private static JsonNode? Resolved(JsonNode? schema, JsonNode document)
    {
        if (schema?["oneOf"] is JsonArray any)
            schema = any.FirstOrDefault(s => s!["$ref"] is not null) ?? schema;
        return (string?)schema?["$ref"] is { } name ? document["components"]!["schemas"]![name.Split('/')[^1]] : schema;
    }

    private static FieldKind KindOf(JsonNode? schema, JsonNode? value)
    {
        var format = (string?)schema?["format"];
        var type = schema?["type"]?.ToJsonString() ?? "";
        return format switch
        {
            "uuid" => FieldKind.Id,
            "date" or "date-time" => FieldKind.Time,
            _ when type.Contains("number", StringComparison.Ordinal) || type.Contains("integer", StringComparison.Ordinal) =>
                FieldKind.Number,
            _ when value is null && type.Contains("array", StringComparison.Ordinal) => FieldKind.List,
            _ when value is null && type.Contains("string", StringComparison.Ordinal) => FieldKind.Text,
            _ => KindOf(value),
        };
    }

    private static FieldKind KindOf(JsonNode? value) =>
        value switch
        {
            JsonArray => FieldKind.List,
            JsonObject => FieldKind.Object,
            JsonValue v when v.GetValueKind() == JsonValueKind.Number => FieldKind.Number,
            JsonValue v when v.GetValueKind() == JsonValueKind.String && v.GetValue<string>() is var text => Guid.TryParse(text, out _)
                ? FieldKind.Id
            : DateTimeOffset.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, out _) ? FieldKind.Time
            : FieldKind.Text,
            _ => FieldKind.Text,
        };
}
