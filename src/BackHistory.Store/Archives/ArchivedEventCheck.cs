using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;

namespace BackHistory.Store.Archives;

/// <summary>
/// Whether an event that another store decided holds numbers and times that can be meant. Nothing else of it is judged again: it was true
/// there.
/// </summary>
internal static class ArchivedEventCheck
{
    /// <summary>Two stores' clocks, and what was true in another time zone.</summary>
    private static readonly TimeSpan ClocksApart = TimeSpan.FromDays(2);

    /// <returns>What cannot be meant; null when all of it can.</returns>
    public static Refused? Problem(ArchivedEvent e, object data, DateTimeOffset now) =>
        OfTimes(e, data, now) ?? ArchivedNumbers.Problem(e.Data) ?? OfEvent(data);

    private static Refused? OfTimes(ArchivedEvent e, object data, DateTimeOffset now) =>
        Plausible.Happened(e.RecordedAt, now + ClocksApart)
        ?? (data is IHappened happened ? Plausible.Happened(happened.TakenAt, e.RecordedAt + ClocksApart) : null);

    private static Refused? OfEvent(object data) =>
        data switch
        {
            IVisitEntryEvent entry => PlausibleEntries.Problem(entry),
            HorseRegistered { HeightMm: { } height } => Outside(Plausible.Height, "height", height),
            HorseDetailsCorrected { HeightMm: { } height } => Outside(Plausible.Height, "height", height),
            WorkChanged { HoursPerWeek: { } hours } => Outside(Plausible.HoursPerWeek, "work in a week", hours),
            PadFitted d => d.Shims.Select(s => Outside(Plausible.Shim, "shim", s.ThicknessMm)).FirstOrDefault(p => p is not null),
            ReminderRulesChanged d when ReminderRulesCheck.Problem(d.Rules) is { } why => new("bad-rules", why),
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
            // Every other event with a number stands on the list of ArchivedEventCheckTests, with the reason.
            _ => null,
        };

    private static Refused? Outside(PlausibleRange range, string what, double value) =>
        range.Holds(value) ? null : new("implausible-value", $"The {what} lies outside {range}.");
}
