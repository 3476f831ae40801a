using System.Buffers.Text;
using System.Runtime.CompilerServices;
using System.Text.Json;
using BackHistory.History;
using BackHistory.Store.Events;

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
            var bytes = Base64Url.DecodeFromChars(cursor);
            if (StoredText.Problem(bytes) is null && JsonSerializer.Deserialize<T>(bytes, Tuples) is var place && IsPlace(place))
                return (place, null);
        }
        catch (Exception e) when (e is FormatException or JsonException)
        {
            // As any other that was never given out.
        }

        return (null, NotOurs);
    }

    /// <summary>What no answer ever gave out as its next.</summary>
    internal static readonly Refused NotOurs = new("bad-cursor", "'after' is the next of an earlier answer, unchanged.");

    /// <summary>Whether rows have such a place: all of its parts are there, and its moments are as the store gives them, in UTC.</summary>
    private static bool IsPlace<T>(T place) =>
        place is not ITuple parts
        || Enumerable.Range(0, parts.Length).All(i => parts[i] is { } part && part is not DateTimeOffset { Offset.Ticks: not 0 });

    public static string Write<T>(T place) => Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(place, Tuples));

    /// <summary>One row more than the page was read, to know whether there is another.</summary>
    public static Page<T> Page<T, TPlace>(IReadOnlyList<T> rows, int size, Func<T, TPlace> place) =>
        rows.Count <= size ? new Page<T>(rows, null) : new Page<T>([.. rows.Take(size)], Write(place(rows[size - 1])));
}
