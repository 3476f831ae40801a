using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using System.Text.Unicode;
using BackHistory.History;
using BackHistory.Store.Events;
using BackHistory.Store.Setup;

namespace BackHistory.Service.Web;

/// <summary>Request bodies, read once as bytes (for the fingerprint) and then as what they should be.</summary>
public static class Bodies
{
    /// <summary>Strict: an unknown field is a typing error that would otherwise be lost in silence.</summary>
    private static readonly JsonSerializerOptions Strict = MakeStrict();

    public static async Task<byte[]> Read(HttpRequest request, CancellationToken ct)
    {
        using var memory = new MemoryStream(request.ContentLength is { } length ? (int)Math.Min(length, 1 << 20) : 4096);
        await request.Body.CopyToAsync(memory, ct);
        return memory.ToArray();
    }

    /// <summary>The body as a <typeparamref name="T"/>, or why it is not one.</summary>
    public static (T? Value, Refused? Refused) As<T>(ReadOnlySpan<byte> body)
        where T : class
    {
        // A string of what is no UTF-8 would only be found out when it is read.
        if (!Utf8.IsValid(body))
            return (null, RequestRefusals.NotJson("it is not UTF-8."));
        if (SentText.Problem(body) is { } unkeepable)
            return (null, unkeepable);
        try
        {
            if (JsonSerializer.Deserialize<T>(body, Strict) is not { } value)
                return (null, RequestRefusals.NotJson("it is null."));
            return WholeValue.FirstMissing(value, fillTexts: true) is { } missing
                ? (null, RequestRefusals.NotJson($"'{missing}' is missing."))
                : (value, null);
        }
        catch (JsonException e)
        {
            return (null, RequestRefusals.NotJson(Plain(e)));
        }
    }

    /// <summary>A body where none is needed: nothing, or an object without fields. What it holds otherwise would be lost in
    /// silence.</summary>
    public static Refused? NotNothing(byte[] body) => body.Length > 0 ? As<Empty>(body).Refused : null;

    private sealed record Empty;

    /// <summary>The fields that the body names, whatever they hold: what was not sent is not the same as what was sent empty.</summary>
    public static IReadOnlySet<string> Names(ReadOnlyMemory<byte> body)
    {
        using var json = JsonDocument.Parse(body);
        return json.RootElement.EnumerateObject().Select(p => p.Name).ToHashSet(StringComparer.OrdinalIgnoreCase);
    }

    /// <summary>
    /// A property that cannot be set is no field: the reader would skip it in silence, and whoever changed it would believe that it was
    /// taken.
    /// </summary>
    private static void LeaveOutWhatIsWorkedOut(JsonTypeInfo type)
    {
        if (type.Kind != JsonTypeInfoKind.Object)
            return;
        foreach (var property in type.Properties.Where(p => p.Set is null && p.AssociatedParameter is null).ToList())
            type.Properties.Remove(property);
    }

    private static string Plain(JsonException e)
    {
        var at = e.Path is { Length: > 0 } path ? $" at {path}" : "";
        var message = e.Message.Split(" Path:", 2)[0].Split("The JSON value could not be converted to", 2)[0].Trim();
        // The reader's own words name the classes of this service, which nobody outside knows.
        if (message.Contains("could not be mapped to any .NET member", StringComparison.Ordinal))
            return $"there is no field {Quoted(message)} here{at}.";
        if (message.StartsWith("Duplicate property", StringComparison.Ordinal))
            return $"the field {Quoted(message)} stands there twice{at}.";
        if (message.Contains("BackHistory.", StringComparison.Ordinal) || message.Contains("System.", StringComparison.Ordinal))
            return $"a value of the wrong kind{at}.";
        return message.Length == 0 ? $"a value of the wrong kind{at}." : $"{message}{at}";
    }

    /// <summary>The name that the reader's message tells, with its quotation marks.</summary>
    private static string Quoted(string message) => message.Split('\'') is [_, var name, ..] ? $"'{name}'" : "of that name";

    /// <summary>A value as a request would hold it: without what is worked out from the rest, so that it can be changed and sent
    /// back.</summary>
    public static string Write<T>(T value) => JsonSerializer.Serialize(value, Strict);

    /// <inheritdoc cref="Write{T}"/>
    public static IResult Answer<T>(T value) => Results.Json(value, Strict);

    private static JsonSerializerOptions MakeStrict()
    {
        var options = StoreSetup.ConfiguredJson();
        options.TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { LeaveOutWhatIsWorkedOut } };
        // A number names nothing that is offered, and another release may mean something else by it.
        options.Converters.Remove(options.Converters.OfType<JsonStringEnumConverter>().Single());
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false));
        options.Converters.Add(new TimeConverter());
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.NumberHandling = JsonNumberHandling.Strict;
        // The last of two would win, and nobody would know which was meant.
        options.AllowDuplicateProperties = false;
        options.MaxDepth = 32;
        return options;
    }
}
