using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Store;

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
        try
        {
            return JsonSerializer.Deserialize<T>(body, Strict) is { } value ? (value, null) : (null, RequestRefusals.NotJson("it is null."));
        }
        catch (JsonException e)
        {
            return (null, RequestRefusals.NotJson(Plain(e)));
        }
    }

    private static string Plain(JsonException e)
    {
        var at = e.Path is { Length: > 0 } path ? $" at {path}" : "";
        var message = e.Message.Split(" Path:", 2)[0].Split("The JSON value could not be converted to", 2)[0].Trim();
        return message.Length == 0 ? $"a value of the wrong kind{at}." : $"{message}{at}";
    }

    private static JsonSerializerOptions MakeStrict()
    {
        var options = MartenSetup.ConfiguredJson();
        options.UnmappedMemberHandling = System.Text.Json.Serialization.JsonUnmappedMemberHandling.Disallow;
        options.NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.Strict;
        options.MaxDepth = 32;
        return options;
    }
}
