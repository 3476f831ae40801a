using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Decisions;
using BackHistory.Service.Saddles;
using BackHistory.Shape.Gauges;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Service.Verbs;

/// <summary>Answers the lines of <c>decide</c>: from tracings to the decision on a horse, as the service makes it.</summary>
internal static class DecideLine
{
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.Utc;

    private static readonly JsonWriterOptions Plainly = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly int[] ForecastDays = [90, 180, 365];

    private static readonly string[] Told = ["no-baseline", "no-visit", "state", "driver", "pattern", "caution", "measure-again"];

    /// <inheritdoc cref="BackHistory.Shape.Wire.MeasureLine.Answer"/>
    internal static (string Json, bool Refused) Answer(string line, int lineNumber)
    {
        JsonElement? id = null;
        try
        {
            using var document = HorseLineReader.Open(line);
            id = HorseLineReader.IdOf(document.RootElement)?.Clone();
            var horse = HorseLineReader.Read(document.RootElement);
            return (Json(json => Write(json, horse)), false);
        }
        catch (LineRefused refused)
        {
            return (Json(json => Refuse(json, id, lineNumber, refused)), true);
        }
    }

    internal static void Refuse(Utf8JsonWriter json, JsonElement? id, int line, LineRefused refused)
    {
        json.WritePropertyName("id");
        if (id is { } known)
            known.WriteTo(json);
        else
        {
            json.WriteNullValue();
            json.WriteNumber("line", line);
        }
        json.WriteStartObject("refused");
        json.WriteString("code", refused.Code);
        json.WriteString("message", refused.Message);
        json.WriteEndObject();
    }

    internal static string Json(Action<Utf8JsonWriter> body)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Plainly))
        {
            json.WriteStartObject();
            body(json);
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length);
    }

    private static void Write(Utf8JsonWriter json, HorseLine horse)
    {
        var told = new Judged(horse);
        json.WritePropertyName("id");
        horse.Id.WriteTo(json);
        json.WriteString("state", Name(told.State));
        Number(json, "p", told.Decision?.P);
        Caution(json, told.Decision);
        Uncertain(json, "lean", "deg", told.LeanOf(told.Known.Count - 1));
        Again(json, told.AgainAt(told.Known.Count - 1, told.Decision));
        json.WriteString("finding", Finding(told));
        json.WriteStartArray("measures");
        foreach (var m in told.Decision?.Measures ?? [])
            Measure(json, m);
        json.WriteEndArray();
        json.WriteStartArray("patterns");
        foreach (var p in told.Decision?.Patterns ?? [])
        {
            json.WriteStartObject();
            json.WriteString("name", p.Name);
            json.WriteString("station", p.Station);
            json.WriteNumber("share", p.Share);
            json.WriteNumber("change", p.Change.Value);
            json.WriteNumber("sd", p.Change.Sd);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        Proposal(json, told);
        json.WriteStartArray("forecast");
        foreach (var days in ForecastDays)
            if (told.Decision is { PByMonth.Count: > 0 } decision)
            {
                json.WriteStartObject();
                json.WriteNumber("days", days);
                json.WriteNumber("p", Ahead(decision.PByMonth, days));
                json.WriteEndObject();
            }
        json.WriteEndArray();
        json.WriteString("nextCheck", Date(told.NextCheck));
        json.WriteStartArray("byVisit");
        foreach (var v in told.SinceFit)
        {
            var decision = told.AtVisit[v];
            json.WriteStartObject();
            json.WriteString("on", Date(told.DayOf(v)));
            json.WriteString("state", Name(told.StateAt(v)));
            Number(json, "p", decision?.P);
            Caution(json, decision);
            Uncertain(json, "lean", "deg", told.LeanOf(v));
            Again(json, told.AgainAt(v, decision));
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static string Finding(Judged told) =>
        told.Decision is not { } decision
            ? ReportLanguage.English["decision.no-fit"]
            : string.Join(' ', decision.InWords(told.Rules).Where(s => Told.Contains(s.Kind, StringComparer.Ordinal)).Select(s => s.Text));

    private static void Caution(Utf8JsonWriter json, HorseDecision? decision)
    {
        if (decision?.Caution is not { } caution)
        {
            json.WriteNull("caution");
            return;
        }
        json.WriteStartObject("caution");
        json.WriteString("side", caution.Side);
        json.WriteString("station", caution.Station);
        json.WriteNumber("p", caution.P);
        json.WriteEndObject();
    }

    private static void Again(Utf8JsonWriter json, IEnumerable<(string? Station, string Why)> again)
    {
        json.WriteStartArray("again");
        foreach (var (station, why) in again)
        {
            json.WriteStartObject();
            json.WriteString("station", station);
            json.WriteString("why", why);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Measure(Utf8JsonWriter json, MeasureDecision m)
    {
        json.WriteStartObject();
        json.WriteString("measure", m.Measure);
        json.WriteString("station", m.Station);
        Number(json, "change", m.Alone?.Change);
        Number(json, "sd", m.Alone?.Sd);
        Number(json, "together", m.Together?.Value);
        Number(json, "togetherSd", m.Together?.Sd);
        json.WriteNumber("threshold", m.Threshold);
        Number(json, "p", m.P);
        json.WriteEndObject();
    }

    private static void Proposal(Utf8JsonWriter json, Judged told)
    {
        var changes = told.Changes();
        json.WriteStartObject("proposal");
        foreach (var (side, part) in ((string, string)[])[("left", TreePart.Left), ("right", TreePart.Right)])
            Uncertain(json, side, "deg", changes.FirstOrDefault(c => c.Of == part) is { } c ? new(c.Change, c.Sd) : null);
        json.WriteEndObject();
    }

    private static void Uncertain(Utf8JsonWriter json, string name, string of, Uncertain? value)
    {
        if (value is null)
        {
            json.WriteNull(name);
            return;
        }
        json.WriteStartObject(name);
        json.WriteNumber(of, value.Value);
        json.WriteNumber("sd", value.Sd);
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number && double.IsFinite(number))
            json.WriteNumber(name, number);
        else
            json.WriteNull(name);
    }

    /// <summary>Months hold whole days; between two of them the probability is taken in proportion.</summary>
    private static double Ahead(IReadOnlyList<double> byMonth, int days)
    {
        for (var m = 1; m < byMonth.Count; m++)
        {
            var (from, to) = (DayOfMonth(m - 1), DayOfMonth(m));
            if (days <= to)
                return byMonth[m - 1] + (byMonth[m] - byMonth[m - 1]) * (days - from) / (to - from);
        }
        return byMonth[^1];

        static double DayOfMonth(int month) => Math.Floor(month * 365.25 / 12);
    }

    private static string Name(WatchState state) => state.ToString().ToLowerInvariant();

    private static string Date(DateOnly day) => day.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The horse as it is judged visit by visit, and on the day asked for.</summary>
    private sealed class Judged
    {
        private readonly HorseLine _horse;
        private readonly Assessment _last;
        private readonly int? _baseline;

        internal Judged(HorseLine horse)
        {
            _horse = horse;
            Rules = horse.Practice.WatchBy();
            var at = horse.At ?? (horse.Visits.Count > 0 ? Day(horse.Visits[^1]) : horse.Fit ?? DateOnly.FromDateTime(DateTime.UnixEpoch));
            Known = [.. horse.Visits.Where(v => Day(v) <= at)];
            if (horse.Fit is { } fit && Baseline.Choose(fit, Known.Select(Day), Rules) is { } baseline)
                _baseline = Known.FindIndex(v => Day(v) == baseline.Visit);
            Assessment? earlier = null;
            SinceFit = [.. Enumerable.Range(0, Known.Count).Where(v => Day(Known[v]) >= horse.Fit)];
            foreach (var v in SinceFit)
            {
                earlier = Assess([.. Known.Take(v + 1)], Day(Known[v]), earlier);
                AtVisit[v] = DecisionOf(earlier);
            }
            _last = Assess(Known, at, earlier);
            Decision = DecisionOf(_last);
        }

        internal WatchRules Rules { get; }

        /// <summary>Visits up to the day asked for, in order.</summary>
        internal List<VisitRecord> Known { get; }

        /// <summary>Those of them from the fit on, by their place.</summary>
        internal List<int> SinceFit { get; }

        internal Dictionary<int, HorseDecision?> AtVisit { get; } = [];

        /// <summary>On the day asked for; null where no saddle was set.</summary>
        internal HorseDecision? Decision { get; }

        internal WatchState State => Known.Count == 0 ? WatchState.Unknown : StateOf(Decision, Known.Count - 1);

        internal DateOnly NextCheck => _last.NextCheckDue;

        internal WatchState StateAt(int visit) => StateOf(AtVisit[visit], visit);

        internal DateOnly DayOf(int visit) => Day(Known[visit]);

        /// <summary>Until somebody has looked again nothing is known of what came after the fit.</summary>
        private WatchState StateOf(HorseDecision? decision, int last) =>
            decision is null || _baseline is not { } baseline || last <= baseline ? WatchState.Unknown : decision.State;

        internal Uncertain? LeanOf(int visit) =>
            visit >= 0 && _baseline is { } baseline
                ? LeanEstimate.Against(
                    Series.SeriesFrom([.. Known.Take(visit + 1)], Rules, Zone),
                    TrendDays.DayNumber(Known[visit].TakenAt, Zone),
                    TrendDays.DayNumber(Known[baseline].TakenAt, Zone)
                )
                : null;

        internal IEnumerable<(string? Station, string Why)> AgainAt(int visit, HorseDecision? decision)
        {
            if (visit < 0)
                yield break;
            if (decision?.Leaning is not null)
                yield return (null, "leans");
            foreach (var m in (decision?.Measures ?? []).Where(m => m.MeasureAgain).DistinctBy(m => m.Station, StringComparer.Ordinal))
                yield return (m.Station, "outlier");
            var record = Known[visit];
            var apart = ReadingsAgainstTracings.OfVisit(record, [.. _horse.Practice.Stations.Select(s => s.Key)], Rules);
            foreach (
                var station in record
                    .Entries.Where(e => apart.ContainsKey(e.EntryId))
                    .Select(e => e.Station)
                    .Distinct(StringComparer.Ordinal)
            )
                yield return (station, "disagrees");
        }

        /// <summary>What the tree needs against its setting at the fit.</summary>
        internal IReadOnlyList<ProposedChange> Changes()
        {
            var station = Protocols.UsualOf(_horse.Practice.Stations);
            var traced = Known
                .Where(v => v.Standing().Any(m => m.Station == station && m is { Key: MeasureViews.Usual, Value: not null }))
                .ToList();
            return _baseline is { } baseline && traced.Count > 0
                ? SettingProposal
                    .Propose(
                        VisitEvidence.EvidenceFrom(Known[baseline], station, Rules),
                        VisitEvidence.EvidenceFrom(traced[^1], station, Rules),
                        null
                    )
                    .Changes
                : [];
        }

        private Assessment Assess(IReadOnlyList<VisitRecord> visits, DateOnly asOf, Assessment? earlier) =>
            Assessing.Assess(_horse.Horse, visits, _horse.Practice, asOf, 0, earlier);

        private static HorseDecision? DecisionOf(Assessment assessment) =>
            assessment.Saddles.Count == 0 ? null : assessment.Saddles[0].Decision;

        private static DateOnly Day(VisitRecord visit) => ZoneClock.Day(visit.TakenAt, Zone);
    }
}
