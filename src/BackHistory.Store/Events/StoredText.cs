using System.Text.Json;
using BackHistory.History;

namespace BackHistory.Store.Events;

/// <summary>
/// What PostgreSQL cannot keep as JSON: numbers that are none, halves of letters, and NUL (PostgreSQL manual, "JSON Types", on
/// <c>\u0000</c>).
/// </summary>
public static class StoredText
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();

    /// <summary>Holds NUL: from a form, an address or a file.</summary>
    public static readonly Refused Nul = new(
        "unreadable",
        "A text holds the character NUL, which cannot be kept. Nothing was saved; type it again."
    );

    private static readonly Refused HalfALetter = new(
        "unreadable",
        "A text holds half a letter (a lone surrogate), which cannot be kept. Nothing was saved; type it again."
    );

    private static readonly Refused NotWritable = new(
        "not-writable",
        "It holds something that cannot be kept: a number beyond all measure, or a text that is none. "
            + "Nothing was saved; check what was entered."
    );

    /// <summary>Why JSON that was sent in cannot be kept; null when it can, and where it is no JSON at all.</summary>
    public static Refused? Problem(ReadOnlySpan<byte> json)
    {
        // Both can only be written as escapes: raw they are no JSON, or no UTF-8.
        if (json.IndexOf("\\u"u8) < 0)
            return null;
        var reader = new Utf8JsonReader(json);
        try
        {
            while (reader.Read())
            {
                if (reader.TokenType is not (JsonTokenType.String or JsonTokenType.PropertyName) || !reader.ValueIsEscaped)
                    continue;
                if (reader.GetString()!.Contains('\0', StringComparison.Ordinal))
                    return Nul;
            }

            return null;
        }
        catch (JsonException)
        {
            return null;
        }
        catch (InvalidOperationException)
        {
            return HalfALetter;
        }
    }

    /// <summary>Why an event or a document cannot be written; null when it can.</summary>
    internal static Refused? ProblemOf(object stored)
    {
        try
        {
            return Problem(JsonSerializer.SerializeToUtf8Bytes(stored, stored.GetType(), Json));
        }
        catch (Exception e) when (e is ArgumentException or JsonException or NotSupportedException or InvalidOperationException)
        {
            return NotWritable;
        }
    }
}
