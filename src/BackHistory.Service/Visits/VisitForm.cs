using System.Security.Cryptography;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Shape;

namespace BackHistory.Service.Visits;

/// <summary>A visit as it is typed into the page. Everything is text until it is read, so that nothing typed is ever lost.</summary>
public sealed class VisitForm : VisitDetailsForm
{
    /// <summary>The file field of the topline, and of files whose tracings name their stations themselves.</summary>
    public const string ToplineFiles = "file-topline";

    /// <inheritdoc cref="ToplineFiles"/>
    public const string AnyFiles = "file-any";

    private const double MillimetresPerCentimetre = 10;

    private readonly List<string> contents = [];

    /// <summary>Slopes on the left, by the station's key. Binding gives null where none was sent.</summary>
    public Dictionary<string, string?> Left
    {
        get;
        set => field = value ?? [];
    } = [];

    /// <summary>Slopes on the right, by the station's key.</summary>
    public Dictionary<string, string?> Right
    {
        get;
        set => field = value ?? [];
    } = [];

    /// <summary>The inclination of the topline from a station to the next, by the key of the first.</summary>
    public Dictionary<string, string?> Along
    {
        get;
        set => field = value ?? [];
    } = [];

    public string? Note { get; set; }

    public string? Condition { get; set; }

    public string? MuscleNeck { get; set; }

    public string? MuscleBack { get; set; }

    public string? MuscleHind { get; set; }

    public string? Weight { get; set; }

    public string? Girth { get; set; }

    public string? Length { get; set; }

    /// <summary>What the files hold: the same form with another file is another.</summary>
    public IReadOnlyList<string> Files => contents;

    /// <summary>The field of a station's tracings.</summary>
    public static string FilesOf(string station) => $"file-{station}";

    /// <summary>What was typed and the tracings of the files, as entries; names every field that cannot be taken.</summary>
    /// <param name="stations">Of the protocol, in its order.</param>
    internal async Task<IReadOnlyList<VisitEntry>> Entries(
        IReadOnlyList<Station> stations,
        IFormFileCollection files,
        Func<Guid> newId,
        EntryFields fields,
        CancellationToken ct
    )
    {
        var entries = new List<VisitEntry>();
        void Take(double? value, Func<double, VisitEntry> make)
        {
            if (value is { } number)
                entries.Add(make(number));
        }

        foreach (var at in stations.Select(s => s.Key))
        {
            Take(
                fields.Number($"left-{at}", "Left slope", Left.GetValueOrDefault(at), Plausible.FlankSlope, "°"),
                v => new ReadingEntry(newId(), Readings.SlopeLeft, at, v)
            );
            Take(
                fields.Number($"right-{at}", "Right slope", Right.GetValueOrDefault(at), Plausible.FlankSlope, "°"),
                v => new ReadingEntry(newId(), Readings.SlopeRight, at, v)
            );
            Take(
                fields.Number($"along-{at}", "Topline", Along.GetValueOrDefault(at), Plausible.ToplineSlope, "°"),
                v => new ReadingEntry(newId(), Readings.ToplineSlope, at, v)
            );
            entries.AddRange(await Traced(files, FilesOf(at), TracingKind.CrossSection, at, newId, fields, ct));
        }

        entries.AddRange(await Traced(files, ToplineFiles, TracingKind.Topline, null, newId, fields, ct));
        entries.AddRange(await Traced(files, AnyFiles, null, null, newId, fields, ct));
        Take(fields.Number("co", "Condition", Condition, Plausible.Condition, "", half: true), v => new ConditionEntry(newId(), v));
        Muscle("mn", "neck", MuscleNeck);
        Muscle("mb", "back", MuscleBack);
        Muscle("mh", "hind", MuscleHind);
        Take(fields.Number("we", "Weight", Weight, Plausible.Weight, " kg"), v => new WeightEntry(newId(), v));
        var girth = fields.Number("gi", "Girth", Girth, Plausible.Taped, " cm", MillimetresPerCentimetre);
        var length = fields.Number("le", "Length", Length, Plausible.Taped, " cm", MillimetresPerCentimetre);
        if (string.IsNullOrWhiteSpace(Girth) != string.IsNullOrWhiteSpace(Length))
            fields.Say(string.IsNullOrWhiteSpace(Girth) ? "gi" : "le", "Girth and length go together, both in centimetres.");
        if (girth is { } g && length is { } l)
            entries.Add(new GirthEntry(newId(), g, l));
        if (!string.IsNullOrWhiteSpace(Note))
            entries.Add(new NoteEntry(newId(), Note));
        return entries;

        void Muscle(string id, string site, string? typed) =>
            Take(
                fields.Number(id, $"Muscle {site}", typed, Plausible.Muscle, "", half: true),
                v => new MuscleEntry(newId(), site, MuscleScales.BuiltIn, v)
            );
    }

    private async Task<IReadOnlyList<VisitEntry>> Traced(
        IFormFileCollection files,
        string field,
        TracingKind? kind,
        string? station,
        Func<Guid> newId,
        EntryFields fields,
        CancellationToken ct
    )
    {
        var entries = new List<VisitEntry>();
        var wrong = new List<string>();
        foreach (var file in files.GetFiles(field).Where(f => f.Length > 0))
        {
            var (traced, bad) = await TracingFile.Read(file, kind, station, newId, ct);
            // What the decision would refuse is said beside its file, with everything else that is wrong.
            var reason = bad?.Message ?? traced.Select(t => t.Fit.Refused?.Message).FirstOrDefault(m => m is not null);
            if (reason is not null)
                wrong.Add($"“{file.FileName}”: {reason}");
            entries.AddRange(traced);
            await using var content = file.OpenReadStream();
            contents.Add(Convert.ToHexStringLower(await SHA256.HashDataAsync(content, ct)));
        }

        if (wrong.Count > 0)
            fields.Say(field, string.Join(" ", wrong) + " Choose the files again.");
        return entries;
    }
}
