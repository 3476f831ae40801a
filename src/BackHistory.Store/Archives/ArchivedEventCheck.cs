using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;

namespace BackHistory.Store.Archives;

/// <summary>
/// Whether an event that another store decided holds numbers and times that can be meant. Nothing else of it is judged again: it was true
/// there.
/// </summary>
internal static class ArchivedEventCheck
{
    /// <summary>No number of an event is larger: the largest are sizes of files in bytes and positions in a store.</summary>
    private const double LargestNumber = 1e12;

    /// <summary>Two stores' clocks, and what was true in another time zone.</summary>
    private static readonly TimeSpan ClocksApart = TimeSpan.FromDays(2);

    /// <returns>What cannot be meant; null when all of it can.</returns>
    public static Refused? Problem(ArchivedEvent e, object data, DateTimeOffset now) =>
        OfTimes(e, data, now) ?? OfNumbers(e.Data) ?? OfEvent(data);

    private static Refused? OfTimes(ArchivedEvent e, object data, DateTimeOffset now) =>
        Plausible.Happened(e.RecordedAt, now + ClocksApart)
        ?? (data is IHappened happened ? Plausible.Happened(happened.TakenAt, e.RecordedAt + ClocksApart) : null);

    private static Refused? OfNumbers(JsonElement data) =>
        data.ValueKind switch
        {
            JsonValueKind.Number => data.TryGetDouble(out var number) && Math.Abs(number) <= LargestNumber
                ? null
                : new("implausible", $"It holds the number {Shortened(data.GetRawText())}."),
            JsonValueKind.Array => data.EnumerateArray().Select(OfNumbers).FirstOrDefault(p => p is not null),
            JsonValueKind.Object => data.EnumerateObject().Select(p => OfNumbers(p.Value)).FirstOrDefault(p => p is not null),
            _ => null,
        };

    private static Refused? OfEvent(object data) =>
        data switch
        {
            IVisitEntryEvent entry => PlausibleEntries.Problem(entry),
            WatchRulesChanged d when RulesCheck.Problem(d.Rules) is { } why => new("bad-rules", why),
            ProtocolChanged d => StationsCheck.Problem(d.Stations),
            GaugeTableChanged d when d.Marks.Any(m => !Plausible.GaugeMark.Holds(m.Position) || !Plausible.GaugeMark.Holds(m.Value)) => new(
                "bad-gauge",
                $"A mark lies outside {Plausible.GaugeMark}."
            ),
            RepeatabilityStudied d when d.Subjects.Any(row => row.Any(v => !Plausible.Measured.Holds(v))) => new(
                "implausible-value",
                $"A value lies outside {Plausible.Measured}."
            ),
            _ => null,
        };

    private static string Shortened(string number) => number.Length <= 20 ? number : number[..20] + "…";
}
