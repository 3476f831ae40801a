using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Store.Events;
using BackHistory.Store.Setup;
using Marten;

namespace BackHistory.Store.Tests.Events;

/// <summary>What lies in a store for decades: the bytes of every release are read as today's events, and today's bytes do not change by
/// accident.</summary>
public sealed class StoredBytesTests
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();
    private static readonly Dictionary<string, Type> ByAlias = EventAliases.All.ToDictionary(a => a.Value, a => a.Key);

    [Fact]
    public void An_event_of_every_alias_of_the_first_release_is_read_as_what_it_meant()
    {
        var old = TestData.Events(1);
        Assert.Equal(37, old.Count);
        foreach (var (alias, json) in old)
        {
            var type = ByAlias.GetValueOrDefault(alias) ?? Upcasters.ReadAs[alias];
            var read = alias switch
            {
                "work_changed" => Upcasters.Today(JsonSerializer.Deserialize<WorkChanged1>(json, Json)!),
                "reminder_answered" => Upcasters.Today(JsonSerializer.Deserialize<ReminderAnswered1>(json, Json)!),
                _ => JsonSerializer.Deserialize(json, type, Json)!,
            };
            // The samples of the first release were made by the same recipe: what is not new in an event must have come through.
            var (expected, actual) = (
                JsonSerializer.SerializeToNode(Samples.Of(type), type, Json)!.AsObject(),
                JsonSerializer.SerializeToNode(read, type, Json)!.AsObject()
            );
            foreach (
                var name in JsonNode
                    .Parse(json)!
                    .AsObject()
                    .Select(p => JsonNamingPolicy.CamelCase.ConvertName(p.Key))
                    .Where(expected.ContainsKey)
            )
                Assert.True(
                    Property(type, name) is { IsEnum: true } choice
                            ? Meant(choice, JsonNode.Parse(json)![$"{char.ToUpperInvariant(name[0])}{name[1..]}"])
                                == actual[name]?.ToString()
                        : name is "rules" or "evidence"
                            ? CameThrough(JsonNode.Parse(json)![$"{char.ToUpperInvariant(name[0])}{name[1..]}"], actual[name])
                        : Same(Property(type, name), expected[name], actual[name]),
                    $"{alias}.{name}: {actual[name]} instead of {expected[name]}"
                );
        }
    }

    [Fact]
    public void A_span_of_work_of_the_first_release_has_a_name_that_is_the_same_at_every_reading()
    {
        var old = new WorkChanged1(WorkLoad.Light, "dressage", new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.FromHours(1)), Guid.Empty);
        Assert.Equal(Upcasters.Today(old), Upcasters.Today(old with { }));
        Assert.NotEqual(Upcasters.Today(old).WorkId, Upcasters.Today(old with { Load = WorkLoad.Hard }).WorkId);
    }

    [Fact]
    public void Every_event_lies_in_the_store_as_the_fixture_of_this_release_says()
    {
        var fixture = TestData.Events(2).ToDictionary(e => e.Alias, e => e.Json);
        var (missing, changed) = (new List<string>(), new List<string>());
        foreach (var (type, alias) in EventAliases.All)
        {
            var now = Stored(Samples.Of(type));
            if (!fixture.TryGetValue(alias, out var then))
                missing.Add($"{{\"alias\":\"{alias}\",\"data\":{now}}}");
            else if (!SameShape(type, JsonNode.Parse(then)!.AsObject(), JsonNode.Parse(now)!.AsObject()))
                changed.Add($"{{\"alias\":\"{alias}\",\"data\":{now}}}");
        }

        Assert.True(
            changed.Count == 0,
            $"These would be written in another shape. A shape that changes gets a new alias and an "
                + $"upcaster:\n{string.Join('\n', changed)}\nand to add:\n{string.Join('\n', missing)}"
        );
        Assert.True(missing.Count == 0, $"Add to Data/events/release-2.jsonl:\n{string.Join('\n', missing)}");
        Assert.Equal(EventAliases.All.Count, fixture.Count);
    }

    /// <summary>A sample takes the last value of an enum: another one behind it changes no shape, a value that is gone or renamed
    /// does.</summary>
    [Fact]
    public void A_value_added_behind_the_last_changes_no_shape_and_one_that_is_renamed_does()
    {
        Assert.True(SameShape(typeof(LetterOwed), Kind("GroundWithdrawn"), Kind("VetNote")));
        Assert.False(SameShape(typeof(LetterOwed), Kind("NoLetterOfOurs"), Kind("VetNote")));
        Assert.False(SameShape(typeof(LetterOwed), Kind("Book"), Kind("VetNote")));
        Assert.False(SameShape(typeof(LetterOwed), Kind("GroundWithdrawn"), new JsonObject()));

        static JsonObject Kind(string kind) => new() { ["kind"] = kind };
    }

    [Fact]
    public void Enums_are_stored_by_name_and_fields_in_camel_case()
    {
        var json = Stored(new CareNoted(Guid.Empty, CareKind.LayOff, new DateOnly(2026, 3, 1), null, DateTimeOffset.UnixEpoch, Guid.Empty));
        Assert.Contains("\"kind\":\"LayOff\"", json, StringComparison.Ordinal);
        Assert.Contains("\"noteId\"", json, StringComparison.Ordinal);
    }

    /// <summary>As Marten writes it, which takes some of the options and drops others.</summary>
    private static string Stored(object e)
    {
        var options = new StoreOptions();
        StoreSetup.Configure(options);
        return options.Serializer().ToJson(e);
    }

    /// <summary>The values of default rules change from release to release and are no shape; everything else is the same sample to the
    /// letter.</summary>
    private static bool SameShape(Type type, JsonObject then, JsonObject now)
    {
        var shapes = (then["rules"], now["rules"]) is ({ } old, { } rules) ? (Paths(old, ""), Paths(rules, "")) : ([], []);
        then.Remove("rules");
        now.Remove("rules");
        return shapes.Item1.Order(StringComparer.Ordinal).SequenceEqual(shapes.Item2.Order(StringComparer.Ordinal), StringComparer.Ordinal)
            && Same(type, then, now);
    }

    /// <summary>The same sample. Of an enum it takes the last value, so any value that the enum still has is the same.</summary>
    private static bool Same(Type? type, JsonNode? then, JsonNode? now) =>
        (then, now) switch
        {
            (JsonObject t, JsonObject n) => t.Count == n.Count
                && t.All(p => n.ContainsKey(p.Key) && Same(Property(type, p.Key), p.Value, n[p.Key])),
            (JsonArray t, JsonArray n) => t.Count == n.Count && t.Zip(n).All(p => Same(Item(type), p.First, p.Second)),
            _ => JsonNode.DeepEquals(then, now) || (IsValueOf(type, then) && IsValueOf(type, now)),
        };

    /// <summary>A value of a closed list as the first release stored it, by its number.</summary>
    private static string? Meant(Type choice, JsonNode? stored) => stored is null ? null : Enum.GetName(choice, stored.GetValue<int>());

    private static bool IsValueOf(Type? type, JsonNode? node) =>
        type is { IsEnum: true } && node?.GetValueKind() == JsonValueKind.String && Enum.GetNames(type).Contains(node.GetValue<string>());

    private static Type? Property(Type? type, string stored)
    {
        var property = type
            ?.GetProperties()
            .FirstOrDefault(p =>
                (p.GetCustomAttribute<JsonPropertyNameAttribute>()?.Name ?? JsonNamingPolicy.CamelCase.ConvertName(p.Name)) == stored
            );
        return property is null ? null : Nullable.GetUnderlyingType(property.PropertyType) ?? property.PropertyType;
    }

    private static Type? Item(Type? type) => type is { IsGenericType: true } ? type.GetGenericArguments()[0] : null;

    private static HashSet<string> Paths(JsonNode? node, string at) =>
        node switch
        {
            JsonObject o => o.SelectMany(p => Paths(p.Value, $"{at}.{p.Key}")).ToHashSet(StringComparer.Ordinal),
            JsonArray a => a.SelectMany(i => Paths(i, $"{at}[]")).ToHashSet(StringComparer.Ordinal),
            _ => [$"{at}:{node?.GetValueKind()}"],
        };

    /// <summary>Rules that mean nothing any more: whether to measure again is asked by the probability of a slip, no longer by the size
    /// of a jump.</summary>
    private static readonly string[] Dropped = ["MeasureAgainFrom"];

    /// <summary>Every field of the first release is there with its value, in today's casing and with enums by name.</summary>
    private static bool CameThrough(JsonNode? then, JsonNode? now) =>
        (then, now) switch
        {
            (JsonObject t, JsonObject n) => t.All(p =>
                p.Value is null || Dropped.Contains(p.Key) || CameThrough(p.Value, n[JsonNamingPolicy.CamelCase.ConvertName(p.Key)])
            ),
            (JsonArray t, JsonArray n) => t.Count == n.Count && t.Zip(n).All(p => CameThrough(p.First, p.Second)),
            (JsonValue t, JsonValue n) => JsonNode.DeepEquals(t, n)
                || (t.GetValueKind() == JsonValueKind.Number && n.GetValueKind() == JsonValueKind.String),
            _ => false,
        };
}
