using System.Buffers.Text;
using System.Text.Json;
using BackHistory.History;

namespace BackHistory.Service.Web;

/// <summary>Pages by the place of their last row, never by counting rows.</summary>
public static class Paging
{
    private const int Default = 50;
    private const int Most = 200;
    private static readonly JsonSerializerOptions Tuples = new() { IncludeFields = true };

    public static int Size(int? limit) => Math.Clamp(limit ?? Default, 1, Most);

    /// <summary>The place that a cursor names.</summary>
    public static (T? Cursor, Refused? Refused) Read<T>(string? cursor)
        where T : struct
    {
        if (string.IsNullOrEmpty(cursor))
            return (null, null);
        try
        {
            return (JsonSerializer.Deserialize<T>(Base64Url.DecodeFromChars(cursor), Tuples), null);
        }
        catch (Exception e) when (e is FormatException or JsonException)
        {
            return (null, new Refused("bad-cursor", "'after' is the next of an earlier answer, unchanged."));
        }
    }

    public static string Write<T>(T place) => Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(place, Tuples));

    /// <summary>One row more than the page was read, to know whether there is another.</summary>
    public static Page<T> Page<T, TPlace>(IReadOnlyList<T> rows, int size, Func<T, TPlace> place) =>
        rows.Count <= size ? new Page<T>(rows, null) : new Page<T>([.. rows.Take(size)], Write(place(rows[size - 1])));
}
