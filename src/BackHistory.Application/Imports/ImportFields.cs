using BackHistory.History.Horses;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What a spreadsheet's columns can mean.</summary>
public static class ImportFields
{
    public const string SlopesLeftFirst = "read-slope-left/right";

    public const string SlopesRightFirst = "read-slope-right/left";

    /// <summary>One column for what two say otherwise.</summary>
    public static IReadOnlyDictionary<string, (string First, string Second)> Pairs { get; } =
        new Dictionary<string, (string, string)>(StringComparer.Ordinal)
        {
            [SlopesLeftFirst] = (Readings.SlopeLeft, Readings.SlopeRight),
            [SlopesRightFirst] = (Readings.SlopeRight, Readings.SlopeLeft),
        };

    /// <summary>The fields whose cells hold a name, and what it is the name of.</summary>
    internal static IReadOnlyList<(string Field, NamedThing Thing)> Named(ImportKind kind) =>
        kind switch
        {
            ImportKind.People => [("name", NamedThing.Person)],
            ImportKind.Yards => [("name", NamedThing.Yard)],
            ImportKind.Horses => [("name", NamedThing.Horse), ("owner", NamedThing.Person), ("yard", NamedThing.Yard)],
            ImportKind.Saddles => [("label", NamedThing.Saddle), ("owner", NamedThing.Person)],
            ImportKind.SaddleWork => [("saddle", NamedThing.Saddle), ("horse", NamedThing.Horse), ("by", NamedThing.Person)],
            ImportKind.Gauges => [],
            _ => [("horse", NamedThing.Horse), ("by", NamedThing.Person)],
        };

    /// <summary>Of whom or what a line is.</summary>
    public static string Whose(ImportKind kind) =>
        kind switch
        {
            ImportKind.Saddles => "label",
            ImportKind.Visits or ImportKind.SaddleWork => "horse",
            ImportKind.Gauges => "gauge",
            _ => "name",
        };

    /// <summary>The month of a day, and every unit. Marks of a traced line are longer: a cell with marks is not kept.</summary>
    private const int MostLetters = 3;

    /// <summary>Whether a cell may be kept after the table is gone, since what it holds names no person: where a number or a day is
    /// expected, somebody may have written a remark.</summary>
    public static bool NamesNobody(ImportKind kind, ImportField field, string text) =>
        field.Form == FieldForm.Text
            ? field.Key is "station" or "sex" or "method" or "horse" or "what" or "left" or "right" or "reads" or "unit" or "mark"
                || (kind == ImportKind.Horses && field.Key == "name")
            : text.Count(char.IsLetter) <= MostLetters;

    public static IReadOnlyDictionary<ImportKind, IReadOnlyList<ImportField>> Of { get; } =
        new Dictionary<ImportKind, IReadOnlyList<ImportField>>
        {
            [ImportKind.People] =
            [
                new("name", FieldForm.Text, "the person's name", Needed: true),
                new("email", FieldForm.Text, "e-mail address"),
                new("phone", FieldForm.Text, "telephone number"),
                new("address", FieldForm.Text, "postal address"),
                new(
                    "role",
                    FieldForm.Text,
                    "owner, rider, fitter, manager, veterinarian, physiotherapist, groom or farrier; owner where it is empty"
                ),
                new("language", FieldForm.Text, $"of letters: {Languages.Shipped.Named}"),
            ],
            [ImportKind.Yards] =
            [
                new("name", FieldForm.Text, "the yard's name", Needed: true),
                new("town", FieldForm.Text, "where it lies"),
            ],
            [ImportKind.Horses] =
            [
                new("name", FieldForm.Text, "the horse's name", Needed: true),
                new("sex", FieldForm.Text, "mare, gelding or stallion"),
                new("foaled", FieldForm.Date, "day of birth"),
                new("height", FieldForm.Length, "height at the withers"),
                new("breed", FieldForm.Text, "breed"),
                new("colour", FieldForm.Text, "colour"),
                new("owner", FieldForm.Text, "the owner's name, as it stands among the people"),
                new("yard", FieldForm.Text, "the yard's name, as it stands among the yards"),
            ],
            [ImportKind.Saddles] =
            [
                new("label", FieldForm.Text, "what the practice calls it, for example its workshop number", Needed: true),
                new("tree", FieldForm.Text, "the tree in the workshop's words"),
                new("panel", FieldForm.Text, "the panels"),
                new("girthing", FieldForm.Text, "the girthing"),
                new("owner", FieldForm.Text, "the owner's name, as it stands among the people"),
            ],
            [ImportKind.Visits] =
            [
                new("horse", FieldForm.Text, "the horse's name", Needed: true),
                new("foaled", FieldForm.Date, "its day of birth, where several horses have one name"),
                new("date", FieldForm.Date, "the day of the visit; lines of one horse and one day are one visit", Needed: true),
                new("by", FieldForm.Text, "who measured, as it stands among the people; whoever imports, where it is empty"),
                new("method", FieldForm.Text, "with what it was measured, for example inclinometer", Needed: true),
                new("station", FieldForm.Text, "the station of the readings in this line"),
                .. Readings.All.Select(r => new ImportField(r.Key, FieldForm.Number, r.Says)),
                new(SlopesLeftFirst, FieldForm.Pair, "inclinometer, both sides in one cell: left / right, as in 32/34"),
                new(SlopesRightFirst, FieldForm.Pair, "inclinometer, both sides in one cell: right / left, as in 34/32"),
                new(
                    "tracing",
                    FieldForm.Points,
                    "the tracing at the station, its points in millimetres from the midline mark: −120 −60; −110 −52; … 0 0; …"
                ),
                new(
                    "topline",
                    FieldForm.Points,
                    "the topline, its points in millimetres with its marks: 0 0 behind-shoulder; 20 −1; … 430 −15 last-rib"
                ),
                new("condition", FieldForm.Number, "body condition, 1 to 9 in half points"),
                new("muscle-neck", FieldForm.Number, "muscle at the neck, 1 to 4 in half points"),
                new("muscle-back", FieldForm.Number, "muscle of the back, 1 to 4 in half points"),
                new("muscle-hind", FieldForm.Number, "muscle of the hindquarters, 1 to 4 in half points"),
                new("weight", FieldForm.Weight, "weight on a scale"),
                new("girth", FieldForm.Length, "girth by tape"),
                new("length", FieldForm.Length, "length by tape, beside the girth"),
                new("height", FieldForm.Length, "height at the withers"),
            ],
            [ImportKind.SaddleWork] =
            [
                new("saddle", FieldForm.Text, "what the practice calls the saddle", Needed: true),
                new("horse", FieldForm.Text, "the horse's name", Needed: true),
                new("foaled", FieldForm.Date, "its day of birth, where several horses have one name"),
                new("date", FieldForm.Date, "the day of the work", Needed: true),
                new("what", FieldForm.Text, "set or altered", Needed: true),
                new("by", FieldForm.Text, "who did it, as it stands among the people; whoever imports, where it is empty"),
                new("left", FieldForm.Text, "setting of the tree on the left, as the gauge is marked"),
                new("right", FieldForm.Text, "setting of the tree on the right, as the gauge is marked"),
                new("panel", FieldForm.Text, "what was done to the panels"),
                new("note", FieldForm.Text, "a note on the work"),
            ],
            [ImportKind.Gauges] =
            [
                new("gauge", FieldForm.Text, "what the gauge is called; lines of one name are one gauge", Needed: true),
                new("key", FieldForm.Text, "its key, as saddles name it; made of its name where it is empty"),
                new("reads", FieldForm.Text, "what it measures: an angle (of one side, or the opening) or a width", Needed: true),
                new("mark", FieldForm.Text, "a mark, as it is engraved", Needed: true),
                new("place", FieldForm.Number, "the mark's place on the gauge, where marks are not evenly spaced"),
                new("value", FieldForm.WithUnit, "what the mark stands for", Needed: true),
                new("unit", FieldForm.Text, "the unit of that: degrees, mm, cm or inches"),
            ],
        };

    /// <summary>Forms in which a day may be written. The order of day and month cannot be told from a date: it is asked.</summary>
    public static IReadOnlyList<string> DateFormats { get; } =
    ["yyyy-MM-dd", "dd.MM.yyyy", "dd/MM/yyyy", "MM/dd/yyyy", "dd-MM-yyyy", "yyyy/MM/dd", "d MMM yyyy", "yyyy"];

    public static IReadOnlyList<string> LengthUnits { get; } = ["mm", "cm", "m", "in", "hands"];

    public static IReadOnlyList<string> WeightUnits { get; } = ["kg", "lb"];
}
