using System.Runtime.InteropServices;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Visits;

/// <summary>Reads the entries of a visit as they are sent in.</summary>
internal static class EntryReader
{
    /// <param name="newId">Makes the id of an entry that brings none.</param>
    public static (IReadOnlyList<VisitEntry> Entries, Refused? Refused) Read(IReadOnlyList<JsonElement>? elements, Func<Guid> newId)
    {
        var entries = new List<VisitEntry>();
        for (var i = 0; i < (elements?.Count ?? 0); i++)
        {
            var (entry, refused) = Read(elements![i], newId);
            if (refused is not null)
                return ([], refused with { Place = $"entries[{i}]" });
            entries.Add(entry!);
        }

        return (entries, null);
    }

    private static readonly Refused NoEntry = RequestRefusals.NotJson("an entry is an object with a kind.");

    public static (VisitEntry? Entry, Refused? Refused) Read(JsonElement element, Func<Guid> newId)
    {
        // What was left out has no text to look at.
        if (element.ValueKind != JsonValueKind.Object)
            return (null, NoEntry);
        // A file that is read line by line passes no body's check.
        if (SentText.Problem(JsonMarshal.GetRawUtf8Value(element)) is { } unkeepable)
            return (null, unkeepable);
        if (!element.TryGetProperty("kind", out var kind) || kind.ValueKind != JsonValueKind.String)
            return (null, NoEntry);
        return kind.GetString() switch
        {
            "cross-section" or "topline" => ReadTracing(element, newId),
            "reading" => Typed<ReadingRequest>(element, r => new ReadingEntry(r.EntryId ?? newId(), r.Measure, r.Station, r.Value)),
            "condition" => Typed<ConditionRequest>(element, r => new ConditionEntry(r.EntryId ?? newId(), r.Score)),
            "muscle" => Typed<MuscleRequest>(
                element,
                r => new MuscleEntry(r.EntryId ?? newId(), r.Site, r.Scale ?? MuscleScales.BuiltIn, r.Score)
            ),
            "weight" => ReadWeight(element, newId),
            "girth" => ReadGirth(element, newId),
            "height" => ReadHeight(element, newId),
            "note" => Typed<NoteRequest>(element, r => new NoteEntry(r.EntryId ?? newId(), r.Words)),
            var other => (
                null,
                new Refused(
                    "unknown-kind",
                    $"'{other}' is no kind of entry. Known: cross-section, topline, reading, condition, muscle, weight, girth, height, "
                        + $"note."
                )
            ),
        };
    }

    /// <summary>The form of the <c>measure</c> verb, whose <c>id</c> may be an id of ours; <c>entryId</c> beside it is taken first, and
    /// <c>calibration</c> where it was traced from a picture.</summary>
    private static (VisitEntry?, Refused?) ReadTracing(JsonElement element, Func<Guid> newId)
    {
        Guid? id = null;
        Calibration? calibration = null;
        var wire = new Dictionary<string, JsonElement>(StringComparer.Ordinal);
        foreach (var property in element.EnumerateObject())
        {
            if (property.Name is "id" or "entryId")
            {
                if (property.Value.ValueKind == JsonValueKind.String && Guid.TryParse(property.Value.GetString(), out var given))
                    id = given;
                continue;
            }

            if (property.Name == "calibration")
            {
                if (property.Value.ValueKind == JsonValueKind.Null)
                    continue;
                (calibration, var unusable) = Bodies.As<Calibration>(JsonSerializer.SerializeToUtf8Bytes(property.Value));
                if (unusable is not null)
                    return (null, unusable);
                continue;
            }

            if (!wire.TryAdd(property.Name, property.Value))
                return (null, RequestRefusals.NotJson($"the field '{property.Name}' stands there twice."));
        }

        var read = TracingJson.Read(JsonSerializer.SerializeToElement(wire));
        return read.Refused is { } refused
            ? (null, new Refused(refused.Code, refused.Message))
            : (new TracingEntry(id ?? newId(), read.Tracing!, calibration), null);
    }

    private static (VisitEntry?, Refused?) ReadWeight(JsonElement element, Func<Guid> newId)
    {
        var (r, refused) = Bodies.As<WeightRequest>(JsonSerializer.SerializeToUtf8Bytes(element));
        if (refused is not null)
            return (null, refused);
        double? scale = r!.Unit switch
        {
            "kg" => 1,
            "lb" => Pound.Kilograms,
            _ => null,
        };
        return scale is { } s
            ? (new WeightEntry(r.EntryId ?? newId(), r.Value * s), null)
            : (null, new Refused("unknown-unit", $"'{r.Unit}' is no unit of weight here. Known: kg, lb."));
    }

    private static (VisitEntry?, Refused?) ReadGirth(JsonElement element, Func<Guid> newId)
    {
        var (r, refused) = Bodies.As<GirthRequest>(JsonSerializer.SerializeToUtf8Bytes(element));
        if (refused is not null)
            return (null, refused);
        double? scale = r!.Unit switch
        {
            "mm" => 1,
            "cm" => 10,
            "in" => Inch.Millimetres,
            _ => null,
        };
        return scale is { } s
            ? (new GirthEntry(r.EntryId ?? newId(), r.Girth * s, r.Length * s), null)
            : (null, new Refused("unknown-unit", $"'{r.Unit}' is no unit of length here. Known: mm, cm, in."));
    }

    private static (VisitEntry?, Refused?) ReadHeight(JsonElement element, Func<Guid> newId)
    {
        var (r, refused) = Bodies.As<HeightRequest>(JsonSerializer.SerializeToUtf8Bytes(element));
        if (refused is not null)
            return (null, refused);
        double? scale = r!.Unit switch
        {
            "mm" => 1,
            "cm" => 10,
            "in" => Inch.Millimetres,
            _ => null,
        };
        return scale is { } s
            ? (
                new HeightEntry(
                    r.EntryId ?? newId(),
                    (int)Math.Round(r.Withers * s),
                    r.Croup is { } croup ? (int)Math.Round(croup * s) : null
                ),
                null
            )
            : (null, new Refused("unknown-unit", $"'{r.Unit}' is no unit of length here. Known: mm, cm, in."));
    }

    private static (VisitEntry?, Refused?) Typed<T>(JsonElement element, Func<T, VisitEntry> make)
        where T : class
    {
        var (request, refused) = Bodies.As<T>(JsonSerializer.SerializeToUtf8Bytes(element));
        return refused is not null ? (null, refused) : (make(request!), null);
    }
}
