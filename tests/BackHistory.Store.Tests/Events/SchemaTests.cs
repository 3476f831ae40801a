using System.Text.Json;
using System.Text.Json.Nodes;
using BackHistory.Store.Archives;
using BackHistory.Store.Events;
using Json.Schema;

namespace BackHistory.Store.Tests.Events;

/// <summary>The published schemas against the events as they are written, by a validator that is not ours.</summary>
public sealed class SchemaTests
{
    private static readonly IReadOnlyDictionary<string, JsonNode> Schemas = EventSchemas.All();

    public static TheoryData<Type> EventTypes => [.. EventAliases.All.Keys];

    [Fact]
    public void Every_version_of_every_event_has_a_schema() =>
        Assert.Equal(EventAliases.All.Values.Order(StringComparer.Ordinal), Schemas.Keys.Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(EventTypes))]
    public void An_event_is_valid_by_its_own_schema_and_not_without_what_it_must_have(Type type)
    {
        var schema = JsonSchema.FromText(Schemas[EventAliases.All[type]].ToJsonString());
        var written = JsonSerializer.SerializeToNode(Samples.Of(type), type, StoredJson.Options())!.AsObject();
        var result = schema.Evaluate(
            JsonSerializer.SerializeToElement(written),
            new EvaluationOptions { OutputFormat = OutputFormat.List }
        );
        Assert.True(result.IsValid, $"{type.Name}: {JsonSerializer.Serialize(result)}");
        written["takenAt"] = 12;
        Assert.False(
            schema.Evaluate(JsonSerializer.SerializeToElement(written)).IsValid,
            $"{type.Name}: a number passed for the time it was true"
        );
        written.Remove("takenAt");
        Assert.False(
            schema.Evaluate(JsonSerializer.SerializeToElement(written)).IsValid,
            $"{type.Name}: it passed without the time it was true"
        );
    }
}
