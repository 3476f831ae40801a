using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What was answered about single values of a table: which station a word is, and whether a name is a known one.</summary>
internal sealed class ImportAnswers(ImportPlan plan, KnownNames names, IReadOnlyList<Station> stations)
{
    /// <summary>The name is nobody's and nothing's that is known.</summary>
    public const string Another = "another";

    /// <summary>The word is none of the practice's stations: its lines are left out.</summary>
    public const string LeaveOut = "leave-out";

    /// <summary>The gauge is one that stands, and these marks are its next version.</summary>
    public const string NewVersion = "new-version";

    /// <summary>One word is asked about once, however it is written in capitals: an answer stands for each of them.</summary>
    private readonly ILookup<string, string>? _answers = plan.Answers?.ToLookup(a => a.Key, a => a.Value, StringComparer.OrdinalIgnoreCase);

    private readonly Dictionary<NamedThing, HashSet<Guid>> _known = new()
    {
        [NamedThing.Person] = [.. names.People.Select(p => p.Id)],
        [NamedThing.Yard] = [.. names.Yards.Select(y => y.Id)],
        [NamedThing.Horse] = [.. names.Horses.Select(h => h.Id)],
        [NamedThing.Saddle] = [.. names.Saddles.Select(s => s.Id)],
    };

    public static string OfName(NamedThing thing, string text) => $"{thing.ToString().ToLowerInvariant()}:{text.Trim()}";

    public static string OfStation(string text) => $"station:{text.Trim()}";

    public static string OfGauge(string name) => $"gauge:{name.Trim()}";

    /// <summary>What becomes of a gauge of which one like it stands; null where nothing was said.</summary>
    public string? Gauge(string name) => Answer(OfGauge(name));

    /// <summary>The known one that a name was said to be; null where it was said to be another, or nothing was said.</summary>
    public Guid? Same(NamedThing thing, string text) =>
        Answer(OfName(thing, text)) is { } answer && Guid.TryParse(answer, out var id) && _known[thing].Contains(id) ? id : null;

    /// <summary>The name was said to be one who or which is not known any more: it is neither another one nor to be guessed.</summary>
    public bool IsGone(NamedThing thing, string text) =>
        Guid.TryParse(Answer(OfName(thing, text)), out var id) && !_known[thing].Contains(id);

    public bool IsAnswered(NamedThing thing, string text) => Answer(OfName(thing, text)) == Another || Same(thing, text) is not null;

    /// <summary>The station's key: named as the protocol names it, but for capitals, spaces and hyphens, or as it was answered.</summary>
    public string? Station(string text)
    {
        var same = stations.Where(s => SimilarNames.Key(s.Key) == SimilarNames.Key(text)).Select(s => s.Key).ToList();
        return stations.Any(s => s.Key == text) ? text
            : same.Count == 1 ? same[0]
            : Answer(OfStation(text)) is { } answer && stations.Any(s => s.Key == answer) ? answer
            : null;
    }

    /// <summary>The name was said to be none that is known: its lines are left out.</summary>
    public bool IsLeftOut(NamedThing thing, string text) => Answer(OfName(thing, text)) == LeaveOut;

    public bool IsLeftOut(string text) => Answer(OfStation(text)) == LeaveOut;

    /// <summary>The one that was given for exactly this, where several are given for one word.</summary>
    private string? Answer(string of) => plan.Answers?.GetValueOrDefault(of) ?? _answers?[of].FirstOrDefault();
}
