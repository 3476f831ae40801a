using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Trends.Rules;

namespace BackHistory.Service.Verbs;

/// <summary>Reads a line of <c>decide</c> or <c>learn</c>: strictly, naming the place of what it refuses.</summary>
internal static class HorseLineReader
{
    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 32, AllowDuplicateProperties = false };

    private static readonly Guid TheSaddle = DeterministicId.From("saddle");

    /// <exception cref="LineRefused">It is no such line.</exception>
    internal static JsonDocument Open(string line)
    {
        try
        {
            return JsonDocument.Parse(Encoding.UTF8.GetBytes(line.TrimStart('\uFEFF')), Strict);
        }
        catch (Exception broken) when (broken is JsonException or InvalidOperationException or ArgumentException)
        {
            throw Unreadable($"This is not JSON that can be read: {broken.Message}");
        }
    }

    /// <summary>The id, text or a number; null when there is none that can be given back.</summary>
    internal static JsonElement? IdOf(JsonElement root)
    {
        try
        {
            if (
                root.ValueKind != JsonValueKind.Object
                || !root.TryGetProperty("id", out var id)
                || id.ValueKind is not (JsonValueKind.String or JsonValueKind.Number)
            )
                return null;
            _ = id.ToString();
            return id;
        }
        catch (InvalidOperationException)
        {
            // Half a surrogate pair: no Unicode text, so nothing to give back.
            return null;
        }
    }

    /// <exception cref="LineRefused">Something in it is missing, unknown or no number, or a tracing is refused.</exception>
    internal static HorseLine Read(JsonElement root)
    {
        var fields = new Fields(root, "", "id", "fit", "at", "rules", "priors", "born", "visits", "history");
        var id = IdOf(root) ?? throw Unreadable("The field 'id' is missing, or neither text nor a number.");
        var (fit, at) = (fields.Day("fit"), fields.Day("at"));
        var practice = PracticeOf(fields.Object("rules"), fields.Object("priors"));
        var horseId = DeterministicId.From("horse", id.ToString());
        var visits = fields.List("visits") ?? throw Unreadable("The field 'visits' is missing.");
        var records = visits.Select((v, i) => Visit(v, i, horseId)).OrderBy(v => v.TakenAt).ToList();
        var horse = new HorseProfile
        {
            Id = horseId,
            Foaled = fields.Day("born"),
            Visits = records.ToImmutableSortedDictionary(v => v.Id, v => v.TakenAt),
        };
        foreach (var (note, i) in (fields.List("history") ?? []).Select((n, i) => (n, i)))
            horse = Noted(horse, note, i);
        if (fit is { } set)
            horse = horse with { Fits = [new(TheSaddle, DeterministicId.From("work"), null, Noon(set), Set: true, Fresh: false)] };
        return new(id, fit, at, practice, horse with { RegisteredAt = records.Count > 0 ? records[0].TakenAt : default }, records);
    }

    private static Practice PracticeOf(JsonElement? rules, JsonElement? priors)
    {
        var shipped = new Practice();
        if (rules is { } given)
            // As the interface answers it: the rules with their versions around them, or the rules alone.
            shipped = shipped with
            {
                Rules = As<WatchRules>(given.TryGetProperty("rules", out var inner) ? inner : given, "rules"),
            };
        if (RulesCheck.Problem(shipped.Rules) is { } problem)
            throw Unreadable($"rules: {problem}");
        // What was learned comes apart from the rules, and both may be given together as a practice has them.
        var practice = shipped with
        {
            Priors = shipped.Rules.Learned,
            Noise = shipped.Rules.Repeats,
            Rules = shipped.Rules with { Learned = null, Repeats = null },
        };
        if (priors is not { } taught)
            return practice;
        var learned = As<LearnedByLines>(taught, "priors");
        return practice with { Priors = learned.Movement, Noise = learned.Hands };
    }

    private static T As<T>(JsonElement element, string place)
        where T : class
    {
        var (value, refused) = Bodies.As<T>(Encoding.UTF8.GetBytes(element.GetRawText()));
        return value ?? throw Unreadable($"{place}: {refused!.Message}");
    }

    private static VisitRecord Visit(JsonElement element, int index, Guid horse)
    {
        var place = string.Create(CultureInfo.InvariantCulture, $"visits[{index}]");
        var fields = new Fields(element, place, "on", "by", "method", "tracings", "readings", "weight", "condition");
        var on = fields.Day("on") ?? throw Unreadable($"{place}: the field 'on' is missing.");
        var number = index.ToString(CultureInfo.InvariantCulture);
        var by = fields.Text("by");
        var entries = new List<EntryRecord>();
        foreach (var (tracing, i) in (fields.List("tracings") ?? []).Select((t, i) => (t, i)))
            entries.Add(Tracing(tracing, string.Create(CultureInfo.InvariantCulture, $"{place}.tracings[{i}]"), entries.Count));
        foreach (var (reading, i) in (fields.List("readings") ?? []).Select((r, i) => (r, i)))
            entries.Add(Reading(reading, string.Create(CultureInfo.InvariantCulture, $"{place}.readings[{i}]"), entries.Count));
        if (fields.Number("weight") is { } weight)
            entries.Add(Entry("weight", null, entries.Count, [new("weight", null, Within(weight, 1, 3000, place, "weight"), "kg")]));
        if (fields.Number("condition") is { } score)
            entries.Add(Entry("condition", null, entries.Count, [new("condition", null, Within(score, 1, 9, place, "condition"), "1")]));
        return new VisitRecord
        {
            Id = DeterministicId.From("visit", horse.ToString(), number),
            HorseId = horse,
            TakenAt = Noon(on).AddSeconds(index),
            // Hands without a name are nobody else's.
            By = by is null ? DeterministicId.From("unnamed hands", number) : DeterministicId.From("hands", by),
            Method = fields.Text("method") ?? "",
            Entries = [.. entries],
        };
    }

    private static EntryRecord Tracing(JsonElement element, string place, int index)
    {
        var read = TracingJson.Read(element);
        if (read.Tracing is not { } tracing)
            throw new LineRefused(read.Refused!.Code, $"{place}: {read.Refused.Message}");
        var answer = TracingAnalysis.Analyse(tracing);
        if (answer.Refused is { } refused)
            throw new LineRefused(refused.Code, $"{place}: {refused.Message}");
        var section = tracing.Kind == TracingKind.CrossSection;
        if (section && string.IsNullOrWhiteSpace(tracing.Station))
            throw Unreadable($"{place}: a cross-section needs the station at which it was traced.");
        var station = section ? tracing.Station!.Trim() : null;
        return Entry(
            section ? "cross-section" : "topline",
            station,
            index,
            [.. answer.Measures.Select(m => new MeasureRow(m.Key, station, m.Value, m.Unit, m.Sd, m.Why))]
        ) with
        {
            Flags = answer.Flags,
        };
    }

    private static EntryRecord Reading(JsonElement element, string place, int index)
    {
        var fields = new Fields(element, place, "measure", "station", "value");
        var measure = fields.Text("measure") ?? throw Unreadable($"{place}: the field 'measure' is missing.");
        var station = fields.Text("station") ?? throw Unreadable($"{place}: the field 'station' is missing.");
        if (Readings.Find(measure) is not { } kind)
            throw Unreadable($"{place}: '{measure}' is no reading. Known: {string.Join(", ", Readings.All.Select(k => k.Key))}.");
        var value = fields.Number("value") ?? throw Unreadable($"{place}: the field 'value' is missing.");
        return Entry(
            "reading",
            station,
            index,
            [new(kind.Key, station, Within(value, kind.Range.Least, kind.Range.Most, place, measure), kind.Range.Unit)]
        );
    }

    private static EntryRecord Entry(string kind, string? station, int index, IReadOnlyList<MeasureRow> measures) =>
        new(DeterministicId.From("entry", index.ToString(CultureInfo.InvariantCulture)), 0, kind, station, measures, []);

    private static double Within(double value, double least, double most, string place, string what) =>
        value >= least && value <= most
            ? value
            : throw new LineRefused(
                Refusal.ImplausibleSize,
                string.Create(CultureInfo.InvariantCulture, $"{place}: {what} is {value}; between {least} and {most} it can be.")
            );

    private static HorseProfile Noted(HorseProfile horse, JsonElement element, int index)
    {
        var place = string.Create(CultureInfo.InvariantCulture, $"history[{index}]");
        var fields = new Fields(element, place, "kind", "from", "to");
        var from = fields.Day("from") ?? throw Unreadable($"{place}: the field 'from' is missing.");
        var to = fields.Day("to");
        if (to < from)
            throw new LineRefused("bad-date", $"{place}: it ends before it begins.");
        var id = DeterministicId.From(place);
        return fields.Text("kind") switch
        {
            "work" => horse with { Work = horse.Work.Add(new(id, Noon(from), WorkLoad.Moderate, null, null)) },
            "lay-off" => horse with { Care = horse.Care.Add(new(id, CareKind.LayOff, from, to)) },
            "illness" => horse with { Care = horse.Care.Add(new(id, CareKind.Illness, from, to)) },
            "growth" => horse with { Care = horse.Care.Add(new(id, CareKind.Growth, from, to)) },
            "note" => horse,
            var other => throw Unreadable($"{place}: '{other}' is no kind. Known: lay-off, illness, work, growth, note."),
        };
    }

    private static DateTimeOffset Noon(DateOnly day) => new(day.ToDateTime(new TimeOnly(12, 0)), TimeSpan.Zero);

    internal static LineRefused Unreadable(string message) => new(Refusal.Unreadable, message);

    /// <summary>The fields of one object; null stands for left out.</summary>
    private sealed class Fields
    {
        private readonly JsonElement _object;
        private readonly string _at;

        /// <param name="place">Of the object in its line; empty for the line itself.</param>
        internal Fields(JsonElement element, string place, params ReadOnlySpan<string> known)
        {
            (_object, _at) = (element, place.Length == 0 ? "" : $"{place}: ");
            if (element.ValueKind != JsonValueKind.Object)
                throw Unreadable($"{_at}this is no JSON object.");
            foreach (var field in element.EnumerateObject())
                if (!known.Contains(field.Name))
                    throw Unreadable($"{_at}the field '{field.Name}' is unknown.");
        }

        private JsonElement? Known(string name) =>
            _object.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null ? value : null;

        internal JsonElement? Object(string name) =>
            Known(name) is not { } value ? null
            : value.ValueKind == JsonValueKind.Object ? value
            : throw Unreadable($"{_at}'{name}' is no JSON object.");

        internal IEnumerable<JsonElement>? List(string name) =>
            Known(name) is not { } value ? null
            : value.ValueKind == JsonValueKind.Array ? value.EnumerateArray()
            : throw Unreadable($"{_at}'{name}' is no list.");

        internal string? Text(string name)
        {
            if (Known(name) is not { } value)
                return null;
            if (value.ValueKind != JsonValueKind.String)
                throw Unreadable($"{_at}'{name}' is no text.");
            try
            {
                return value.GetString();
            }
            catch (InvalidOperationException broken)
            {
                throw Unreadable($"{_at}'{name}': {broken.Message}");
            }
        }

        internal double? Number(string name)
        {
            if (Known(name) is not { } value)
                return null;
            if (value.ValueKind != JsonValueKind.Number)
                throw Unreadable($"{_at}'{name}' is no number.");
            return value.TryGetDouble(out var number) && double.IsFinite(number)
                ? number
                : throw new LineRefused(Refusal.NotFinite, $"{_at}'{name}' is too large for a double.");
        }

        /// <summary>A date, or the day in UTC of a date-time with offset.</summary>
        internal DateOnly? Day(string name)
        {
            if (Text(name) is not { } text)
                return null;
            if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
                return day;
            return
                text.Contains('T', StringComparison.Ordinal)
                && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.None, out var at)
                ? ZoneClock.Day(at, TimeZoneInfo.Utc)
                : throw new LineRefused(
                    "bad-date",
                    $"{_at}'{name}' is not a date (2026-11-25) or a date-time with offset (2026-11-25T09:30:00+01:00)."
                );
        }
    }
}
