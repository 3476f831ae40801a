using System.Text.Json.Nodes;

namespace BackHistory.Attack.Tests.Requests;

/// <summary>An operation of the interface, as its description tells it.</summary>
/// <param name="Path">With the names of its places: <c>/api/horses/{horseId}</c>.</param>
/// <param name="Body">The type of its body, <c>application/json</c> for example; null where it takes none.</param>
internal sealed record Operation(
    HttpMethod Method,
    string Path,
    IReadOnlyList<(string Name, string? Format)> Query,
    string? Body,
    JsonNode? Schema
)
{
    public string Name => $"{Method} {Path}";

    public bool Reads => Method == HttpMethod.Get;

    /// <summary>All operations of an OpenAPI document.</summary>
    public static IReadOnlyList<Operation> All(JsonNode document) =>
        [
            .. document["paths"]!
                .AsObject()
                .SelectMany(path => path.Value!.AsObject().Select(o => Of(path.Key, o.Key, o.Value!)))
                .OrderBy(o => o.Path, StringComparer.Ordinal)
                .ThenBy(o => o.Method.Method, StringComparer.Ordinal),
        ];

    private static Operation Of(string path, string method, JsonNode operation)
    {
        var query = (operation["parameters"]?.AsArray() ?? [])
            .Where(p => (string?)p!["in"] == "query")
            .Select(p => ((string)p!["name"]!, FormatOf(p["schema"])));
        var body = operation["requestBody"]?["content"]?.AsObject().FirstOrDefault();
        return new Operation(
            new HttpMethod(method.ToUpperInvariant()),
            path.Length > 1 ? path.TrimEnd('/') : path,
            [.. query],
            body?.Key,
            body?.Value?["schema"]
        );
    }

    private static string? FormatOf(JsonNode? schema) =>
        (string?)schema?["format"] ?? (schema?["type"] is JsonValue type ? (string?)type : null);
}
