using System.Text.Json;
using BackHistory.History;
using BackHistory.Store.Events;

namespace BackHistory.Service.Web;

/// <summary>Texts as JSON holds them that was sent in: what cannot be kept, and what nobody means to enter.</summary>
public static class SentText
{
    /// <summary>Of UTF-8: an escape, a delete, and what the first bytes of control signs and of noncharacters are.</summary>
    private static readonly System.Buffers.SearchValues<byte> Suspicious = System.Buffers.SearchValues.Create([
        (byte)'\\',
        0x7F,
        0xC2,
        0xE2,
        0xEF,
        0xF0,
        0xF1,
        0xF2,
        0xF3,
        0xF4,
    ]);

    /// <summary>Why it cannot be taken; null when it can, and where it is no JSON at all.</summary>
    public static Refused? Problem(ReadOnlySpan<byte> json)
    {
        if (StoredText.Problem(json) is { } unkeepable)
            return unkeepable;
        if (json.Length <= EnteredText.Longest && json.IndexOfAny(Suspicious) < 0)
            return null;
        var reader = new Utf8JsonReader(json);
        try
        {
            while (reader.Read())
            {
                if (
                    reader.TokenType is JsonTokenType.String or JsonTokenType.PropertyName
                    && EnteredText.Problem(reader.GetString()) is { } problem
                )
                    return problem;
            }

            return null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
