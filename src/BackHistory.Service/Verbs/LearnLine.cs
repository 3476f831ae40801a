using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Policy;
using BackHistory.Service.Web;
using BackHistory.Trends.Learning;
using BackHistory.Trends.Repeats;

namespace BackHistory.Service.Verbs;

/// <summary>Answers <c>learn</c>: all lines are horses of one practice, and one line says what they teach.</summary>
internal sealed class LearnLine
{
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.Utc;

    private readonly List<HorseLine> _horses = [];

    /// <summary>Takes in one horse.</summary>
    /// <returns>The answer to a line that is refused; null when it was taken in.</returns>
    internal string? Take(string line, int lineNumber)
    {
        JsonElement? id = null;
        try
        {
            using var document = HorseLineReader.Open(line);
            id = HorseLineReader.IdOf(document.RootElement)?.Clone();
            _horses.Add(HorseLineReader.Read(document.RootElement) with { Id = id ?? default });
            return null;
        }
        catch (LineRefused refused)
        {
            return DecideLine.Json(json => DecideLine.Refuse(json, id, lineNumber, refused));
        }
    }

    /// <summary>As the service learns every week: first how far its hands err, then how its horses move.</summary>
    internal string Answer()
    {
        var practice = _horses.Count > 0 ? _horses[0].Practice : new Practice();
        var repeats = _horses.SelectMany(h => Repeats.RepeatsIn(VisitsOf(h), Zone)).ToList();
        var hands = NoiseLearning.Learn(repeats, practice.Rules);
        var rules = practice.Rules with { Repeats = hands };
        var periods = _horses.SelectMany(h =>
            VisitsOf(h) is { Count: > 0 } visits
                ? FittedPeriods.PeriodsOf(h.Horse, visits, rules, Zone, ZoneClock.Day(visits[^1].TakenAt, Zone))
                : []
        );
        var movement = PriorLearning.Learn([.. periods], rules);
        return DecideLine.Json(json =>
        {
            json.WritePropertyName("priors");
            json.WriteRawValue(Bodies.Write(new LearnedByLines(movement, hands)));
        });
    }

    /// <summary>Up to the day that the line names.</summary>
    private static List<VisitRecord> VisitsOf(HorseLine horse) =>
        [.. horse.Visits.Where(v => horse.At is not { } at || ZoneClock.Day(v.TakenAt, Zone) <= at)];
}
