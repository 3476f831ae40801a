using System.Text.Json;
using BackHistory.History;

namespace BackHistory.Store.Archives;

/// <summary>Numbers of an archive, whatever they mean.</summary>
public static class ArchivedNumbers
{
    /// <summary>No number is larger: the largest are sizes of files in bytes and positions in a store.</summary>
    private const double Largest = 1e12;

    /// <returns>The first that cannot be meant; null when all can.</returns>
    public static Refused? Problem(JsonElement data) =>
        data.ValueKind switch
        {
            JsonValueKind.Number => data.TryGetDouble(out var number) && Math.Abs(number) <= Largest
                ? null
                : new("implausible", $"It holds the number {Shortened(data.GetRawText())}."),
            JsonValueKind.Array => data.EnumerateArray().Select(Problem).FirstOrDefault(p => p is not null),
            JsonValueKind.Object => data.EnumerateObject().Select(p => Problem(p.Value)).FirstOrDefault(p => p is not null),
            _ => null,
        };

    private static string Shortened(string number) => number.Length <= 20 ? number : number[..20] + "…";
}
