using BackHistory.Application.Horses;
using BackHistory.Application.People;
using BackHistory.Application.Saddles;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>For whom lines are read, and what is known by name so far; what a line makes is known to the lines after it.</summary>
/// <param name="now">By which a day lies in the future.</param>
/// <param name="lines">All of the table, where a line is read together with others.</param>
internal sealed class RowMapper(
    string practice,
    History.Practices.Practice rules,
    Import import,
    KnownNames names,
    DateTimeOffset now,
    IReadOnlyList<SheetLine> lines
)
{
    private readonly string _generation = import.Generation.ToString(System.Globalization.CultureInfo.InvariantCulture);
    private readonly ILookup<string, Person> _people = names.People.ToLookup(p => p.Name.Trim(), StringComparer.OrdinalIgnoreCase);
    private readonly ILookup<string, Yard> _yards = names.Yards.ToLookup(y => y.Name.Trim(), StringComparer.OrdinalIgnoreCase);
    private readonly ILookup<string, KnownHorse> _horses = names.Horses.ToLookup(h => h.Name.Trim(), StringComparer.OrdinalIgnoreCase);
    private readonly ILookup<string, KnownSaddle> _saddles = names.Saddles.ToLookup(s => s.Label.Trim(), StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<Guid> _known = [.. names.People.Select(p => p.Id), .. names.Yards.Select(y => y.Id)];
    private readonly HashSet<Guid> _made = [];
    private readonly ImportAnswers _answers = new(import.Plan!, names, rules.Stations);
    private readonly Dictionary<(NamedThing, Guid), string> _labels = new KnownLabels(names).All;
    private readonly TimeZoneInfo _zone = TimeZoneInfo.FindSystemTimeZoneById(rules.TimeZone);

    private readonly GaugeLines? _gauges =
        import.Plan!.Kind == ImportKind.Gauges
            ? new GaugeLines(rules, import, new ImportAnswers(import.Plan!, names, rules.Stations), lines)
            : null;

    /// <summary>What has to be answered about lines that could be read.</summary>
    public IReadOnlyList<ImportQuestion> Questions => _gauges?.Questions ?? [];

    /// <summary>Nobody is asked any more: lines whose answer is missing are refused.</summary>
    public void RefuseOpen() => _gauges?.RefuseOpen();

    /// <summary>The line's step; null without a refusal where everything in it is here already.</summary>
    public LineStep? Make(SheetLine line)
    {
        if (line.Refused is not null)
            return null;
        LineStep? step = import.Plan!.Kind switch
        {
            ImportKind.People => Person(line),
            ImportKind.Yards => Yard(line),
            ImportKind.Horses => Horse(line),
            ImportKind.Saddles => Saddle(line),
            ImportKind.SaddleWork => Work(line),
            ImportKind.Gauges => _gauges!.StepFor(line),
            _ => Visit(line),
        };
        return line.Refused is null ? step : null;
    }

    private LineStep.Keep? Person(SheetLine line)
    {
        var (name, email) = (line.Needed("name"), line.Text("email"));
        var role = Choice<PersonRole>(line, "role") ?? PersonRole.Owner;
        var language = line.Text("language") is { } spoken ? ImportWords.Language(spoken) ?? spoken : null;
        if (language is not null && Languages.Shipped.All.FirstOrDefault(l => l.Tag == language) is { } known)
            line.ReadsAs("language", known.EnglishName);
        var details = new PersonDetails(name ?? "", email, line.Text("phone"), line.Text("address"), role, language, null);
        foreach (var (place, bad) in Faults(details, kept => kept.Problem(), Without))
        {
            if (place != "name" || name is not null)
                line.Refuse(place, bad);
        }

        var same = Said(line, "name", NamedThing.Person, name);
        if (
            line.Refused is not null
            || same is not null
            || _people[name!]
                .Any(p => email is null || p.Email is null || string.Equals(p.Email, email, StringComparison.OrdinalIgnoreCase))
        )
            return null;
        var id = IdOf("person", name!, email ?? "");
        // Renamed since, or with another address by now: known all the same, and what became of them stays.
        if (_known.Contains(id))
            return null;
        if (rules.Erased.Contains(id))
        {
            line.Refuse(
                "name",
                new Refused(
                    "person-erased",
                    "This person was erased from the practice. Nothing was entered; enter them by hand if they are back."
                )
            );
            return null;
        }

        return _made.Add(id) ? new LineStep.Keep(details.As(id), new MadeByImport(MadeAs.Person, id, id)) : null;
    }

    /// <summary>Everything that is wrong with details, each with its place: what was found is left out, and the rest is looked at
    /// again.</summary>
    internal static IEnumerable<(string Place, Refused Refused)> Faults<T>(T details, Func<T, Refused?> fault, Func<T, string, T> without)
        where T : IEquatable<T>
    {
        while (fault(details) is { Place: { } place } bad)
        {
            yield return (place, bad);
            var rest = without(details, place);
            // What cannot be left out would be found for ever.
            if (rest.Equals(details))
                yield break;
            details = rest;
        }
    }

    /// <summary>Them without what is wrong, so that what else is wrong is found.</summary>
    private static PersonDetails Without(PersonDetails details, string place) =>
        place switch
        {
            "name" => details with { Name = "x" },
            "email" => details with { Email = null },
            "phone" => details with { Phone = null },
            "address" => details with { Address = null },
            "role" => details with { Role = PersonRole.Owner },
            "language" => details with { Language = null },
            "timeZone" => details with { TimeZone = null },
            _ => details,
        };

    private LineStep.Keep? Yard(SheetLine line)
    {
        var town = line.Text("town");
        if (line.Needed("name") is not { } name || Said(line, "name", NamedThing.Yard, name) is not null || _yards.Contains(name))
            return null;
        var details = new YardDetails(name, town);
        if (details.Problem() is { } bad)
        {
            line.Refuse(bad.Place!, bad);
            if (town is not null && (details with { Name = "x" }).Problem() is { } worse)
                line.Refuse(worse.Place!, worse);
        }

        if (line.Refused is not null)
            return null;

        var id = IdOf("yard", name);
        if (_known.Contains(id))
            return null;
        return _made.Add(id) ? new LineStep.Keep(details.As(id), new MadeByImport(MadeAs.Yard, id, id)) : null;
    }

    private LineStep.Register? Horse(SheetLine line)
    {
        var (name, foaled, owner) = (line.Needed("name"), line.Date("foaled"), OfPeople(line, "owner"));
        var details = new HorseDetails(
            name ?? "",
            Choice<Sex>(line, "sex"),
            foaled,
            (int?)Round(line.Millimetres("height")),
            line.Text("breed"),
            line.Text("colour")
        );
        var yard = Named(line, "yard", NamedThing.Yard, _yards, y => y.Id);
        foreach (var (place, bad) in Faults(details, kept => HorseRefusals.OfDetails(kept, now), Without))
        {
            if (place == "heightMm")
                line.Refuse("height", NoHeight(details.HeightMm!.Value, bad));
            else if (place != "name" || name is not null)
                line.Refuse(place, bad);
        }

        var same = Said(line, "name", NamedThing.Horse, name);
        if (line.Refused is not null || same is not null)
            return null;
        var id = IdOf(
            "horse",
            name!,
            foaled?.ToString("O", System.Globalization.CultureInfo.InvariantCulture) ?? "",
            owner?.ToString() ?? ""
        );
        // Its own id is asked of the store, which knows whether this import or another entered it.
        if (
            _horses[name!]
                .Any(h =>
                    h.Id != id
                    && (h.Foaled is null || foaled is null || h.Foaled == foaled)
                    && (h.OwnerId is null || owner is null || h.OwnerId == owner)
                )
        )
            return null;
        return _made.Add(id) ? new LineStep.Register(new EnterHorse.Input(id, details, owner, yard)) : null;
    }

    private static HorseDetails Without(HorseDetails details, string place) =>
        place switch
        {
            "name" => details with { Name = "x" },
            "foaled" => details with { Foaled = null },
            "heightMm" => details with { HeightMm = null },
            _ => details,
        };

    private LineStep.RegisterOne? Saddle(SheetLine line)
    {
        var (label, owner) = (line.Needed("label"), OfPeople(line, "owner"));
        var details = new SaddleDetails(label ?? "", line.Text("tree"), line.Text("panel"), line.Text("girthing"), null);
        var same = Said(line, "label", NamedThing.Saddle, label);
        if (line.Refused is not null || same is not null)
            return null;
        var id = IdOf("saddle", label!);
        return _saddles[label!].All(s => s.Id == id) && _made.Add(id)
            ? new LineStep.RegisterOne(new EnterSaddle.Input(id, details, owner))
            : null;
    }

    private LineStep.Measured? Visit(SheetLine line)
    {
        var horse = OfHorses(line);
        var (day, by, method) = (line.Date("date"), OfPeople(line, "by") ?? import.By, line.Needed("method"));
        if (day is null && line.Raw("date") is null)
            line.Refuse("date", new Refused("no-date", "A visit needs its day."));
        var station = StationOf(line);
        var at = day is { } known ? Noon(known) : DateTimeOffset.UnixEpoch;
        var visit = IdOf(
            "visit",
            horse?.ToString() ?? "",
#pragma warning disable RS0030 // An instant, as ids have always been made of it.
            at.UtcDateTime.ToString("O", System.Globalization.CultureInfo.InvariantCulture),
#pragma warning restore RS0030
            by.ToString()
        );
        var entries = VisitLine.Entries(line, station, what => IdOf("entry", visit.ToString(), what));
        foreach (var (entry, field) in entries)
        {
            // A station that could not be told is said where it stands.
            if (EntryRefusals.Of(entry) is { } bad && !(bad.Code == "no-station" && line.Raw("station") is not null))
                line.Refuse(field, bad);
        }

        if (line.Refused is null && entries.Count == 0)
            line.Refuse("horse", HorseRefusals.NothingEntered);
        return line.Refused is null
            ? new LineStep.Measured(
                horse!.Value,
                new RecordVisit(visit, at, by, NothingSaid, method!, rules.ProtocolVersion, [.. entries.Select(e => e.Entry)]),
                _zone
            )
            : null;
    }

    private LineStep.Worked? Work(SheetLine line)
    {
        var (saddle, horse, by) = (OfSaddles(line), OfHorses(line), OfPeople(line, "by") ?? import.By);
        var (day, what) = (line.Date("date"), line.Needed("what"));
        if (day is null && line.Raw("date") is null)
            line.Refuse("date", new Refused("no-date", "Work needs its day."));
        var set = what is not null && line.Word("what", what, ["set", "altered"]) == "set";
        var gauge = saddle?.Gauge is { } key ? rules.Gauges.GetValueOrDefault(key) : null;
        var done = new List<Adjustment>();
        foreach (var side in (string[])["left", "right"])
        {
            if (line.Text(side) is not { } to)
                continue;
            if (gauge is not null && SaddleRefusals.OfMark(gauge, to) is { } bad)
                line.Refuse(side, bad);
            else if (gauge?.Gauge() is { } scale && GaugeText.Position(scale, to) is { } at && scale.AtPosition(at) is { } read)
                line.ReadsAs(side, $"{to}, {Formatter.Metric.Number(read.Value, scale.Unit)}");
            done.Add(new Adjustment("tree", side, null, to, gauge?.Key));
        }

        if (line.Text("panel") is { } panel)
            done.Add(new Adjustment("panel", null, null, panel));
        if (line.Text("note") is { } note)
            done.Add(new Adjustment(Adjustment.Note, null, null, note));
        // One at a time, so that each is said at its own cell.
        foreach (var adjustment in done)
        {
            if (SaddleRefusals.OfAdjustments([adjustment]) is { } bad)
                line.Refuse(adjustment.Part == "tree" ? adjustment.Side! : adjustment.Part, bad);
        }

        if (line.Refused is not null)
            return null;
        var id = IdOf(
            "work",
            [
                saddle!.Id.ToString(),
                horse!.Value.ToString(),
                day!.Value.ToString("O", System.Globalization.CultureInfo.InvariantCulture),
                what!,
                .. done.Select(d => $"{d.Part} {d.Side} {d.To}"),
            ]
        );
        return new LineStep.Worked(saddle.Id, new RecordWork(id, horse.Value, null, set, false, done, Noon(day.Value), by), rules.Gauges);
    }

    /// <summary>Asked where it is not known; none is made for its work.</summary>
    private KnownSaddle? OfSaddles(SheetLine line)
    {
        if (line.Needed("saddle") is not { } label)
            return null;
        if (Said(line, "saddle", NamedThing.Saddle, label) is { } same)
            return names.Saddles.First(s => s.Id == same);
        if (_answers.IsGone(NamedThing.Saddle, label))
            return null;
        var found = _saddles[label].ToList();
        if (found.Count == 1)
        {
            Is(line, "saddle", NamedThing.Saddle, found[0].Id);
            return found[0];
        }

        line.Refuse(
            "saddle",
            _answers.IsLeftOut(NamedThing.Saddle, label)
                    ? new Refused("left-out", "This was said to be none of the practice's saddles, so the line is left out.")
                : found.Count == 0 ? new Refused("no-such-saddle", "There is no saddle of this name. Import the saddles first.")
                : new Refused("several-saddles", $"{found.Count} saddles have this name. Enter this line by hand.")
        );
        return null;
    }

    /// <summary>A table says nothing of the ground and of how the horse stood.</summary>
    private static readonly VisitConditions NothingSaid = new();

    private string? StationOf(SheetLine line)
    {
        if (line.Text("station") is not { } text)
            return null;
        if (_answers.Station(text) is { } key)
        {
            line.ReadsAs("station", key);
            return key;
        }

        line.Refuse(
            "station",
            _answers.IsLeftOut(text)
                ? new Refused("left-out", "This was said to be none of the practice's stations, so the line is left out.")
                : new Refused("no-such-station", "The protocol has no such station. Say which one it is.")
        );
        return null;
    }

    /// <summary>A day without a time is taken at noon where the practice is.</summary>
    private DateTimeOffset Noon(DateOnly day) => ZoneClock.At(day, new TimeOnly(12, 0), _zone);

    private Guid? OfHorses(SheetLine line)
    {
        var foaled = line.Date("foaled");
        if (line.Needed("horse") is not { } name)
            return null;
        if (Said(line, "horse", NamedThing.Horse, name) is { } same)
            return same;
        if (_answers.IsGone(NamedThing.Horse, name))
            return null;
        var found = _horses[name].Where(h => foaled is null || h.Foaled is null || h.Foaled == foaled).ToList();
        if (found.Count == 1)
            return Is(line, "horse", NamedThing.Horse, found[0].Id);
        line.Refuse(
            "horse",
            found.Count == 0
                ? new Refused("no-such-horse", "There is no horse of this name. Import the horses first.")
                : new Refused("several-horses", $"{found.Count} horses have this name. Give the day of birth in a column of its own.")
        );
        return null;
    }

    /// <summary>The known one that a name was said to be; a line whose answer is of one who is gone is refused.</summary>
    private Guid? Said(SheetLine line, string field, NamedThing thing, string? name)
    {
        if (name is null)
            return null;
        if (_answers.IsGone(thing, name))
            line.Refuse(field, AnswerGone);
        return _answers.Same(thing, name) is { } same ? Is(line, field, thing, same) : null;
    }

    /// <summary>Says of a cell whom or what its name was taken for.</summary>
    private Guid Is(SheetLine line, string field, NamedThing thing, Guid id)
    {
        if (_labels.TryGetValue((thing, id), out var label))
            line.ReadsAs(field, label);
        return id;
    }

    private static readonly Refused AnswerGone = new(
        "answer-gone",
        "This was said to be one that is known here, and it is not known any more. Nothing was entered; say it anew, and try again."
    );

    private Guid? OfPeople(SheetLine line, string field) => Named(line, field, NamedThing.Person, _people, p => p.Id);

    private Guid? Named<T>(SheetLine line, string field, NamedThing thing, ILookup<string, T> known, Func<T, Guid> id)
    {
        if (line.Text(field) is not { } name)
            return null;
        if (Said(line, field, thing, name) is { } same)
            return same;
        if (_answers.IsGone(thing, name))
            return null;
        var found = known[name].ToList();
        if (found.Count == 1)
            return Is(line, field, thing, id(found[0]));
        line.Refuse(
            field,
            found.Count == 0
                ? new Refused("no-such-name", "There is nobody and nothing of this name. Import or enter it first.")
                : new Refused("several-of-that-name", $"{found.Count} have this name. Enter this line by hand.")
        );
        return null;
    }

    private static T? Choice<T>(SheetLine line, string field)
        where T : struct, Enum
    {
        if (line.Text(field) is not { } text)
            return null;
        return line.Word(field, text, Enum.GetNames<T>()) is { } value ? Enum.Parse<T>(value) : null;
    }

    /// <summary>A unit was answered for the whole column: what it made of the cell is said.</summary>
    private static Refused NoHeight(int millimetres, Refused bad) =>
        bad with
        {
            Message = string.Create(
                System.Globalization.CultureInfo.InvariantCulture,
                $"This was read as {millimetres} mm, which is no horse's height. Choose another unit, or write the unit into the cell."
            ),
        };

    private static double? Round(double? value) => value is { } v ? Math.Round(v) : null;

    private Guid IdOf(string what, params ReadOnlySpan<string> of) =>
        DeterministicId.From(["imported", what, practice, _generation, .. Upper(of)]);

    private static string[] Upper(ReadOnlySpan<string> parts) => [.. parts.ToArray().Select(p => p.Trim().ToUpperInvariant())];
}
