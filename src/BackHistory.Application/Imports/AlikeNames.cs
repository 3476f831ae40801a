using BackHistory.History;

namespace BackHistory.Application.Imports;

/// <summary>Known names that may be meant by another one: written with other accents or spaces, or one letter off. Names that tell things
/// apart by a number are never alike.</summary>
internal sealed class AlikeNames
{
    /// <summary>In shorter names a letter more or less makes another name.</summary>
    private const int ShortestOffByOne = 4;

    private const int Most = 5;

    private readonly List<(Guid Id, string Key, string Label)> _known;

    /// <summary>By the key and by what is left of it without one letter, so that no two names need be compared that share
    /// nothing.</summary>
    private readonly Dictionary<string, List<int>> _index = new(StringComparer.Ordinal);

    private readonly HashSet<string> _exact;

    /// <param name="known">Id, name, and how a person tells it from others.</param>
    public AlikeNames(IReadOnlyCollection<(Guid Id, string Name, string Label)> known)
    {
        _known = [.. known.Select(k => (k.Id, SimilarNames.Key(k.Name), k.Label))];
        _exact = known.Select(k => k.Name.Trim()).ToHashSet(StringComparer.OrdinalIgnoreCase);
        foreach (var (i, one) in _known.Index())
        {
            foreach (var part in Parts(one.Key))
            {
                if (!_index.TryGetValue(part, out var places))
                    _index[part] = places = [];
                places.Add(i);
            }
        }
    }

    /// <returns>Empty where the name itself is known, or nothing is like it.</returns>
    public IReadOnlyList<(Guid Id, string Label)> Find(string name)
    {
        var key = SimilarNames.Key(name);
        if (key.Length == 0 || _exact.Contains(name.Trim()))
            return [];
        return
        [
            .. Parts(key)
                .SelectMany(p => _index.GetValueOrDefault(p) ?? [])
                .Distinct()
                .Where(i => AreAlike(_known[i].Key, key))
                .Select(i => (_known[i].Id, _known[i].Label))
                .Take(Most),
        ];
    }

    private static IEnumerable<string> Parts(string key) =>
        key.Length < ShortestOffByOne
            ? [key]
            : Enumerable.Range(0, key.Length).Select(i => key.Remove(i, 1)).Append(key).Distinct(StringComparer.Ordinal);

    /// <summary>The same, or with one letter more, less, changed or two neighbours exchanged.</summary>
    private static bool AreAlike(string a, string b)
    {
        if (a == b)
            return true;
        var from = 0;
        while (from < Math.Min(a.Length, b.Length) && a[from] == b[from])
            from++;
        var (endA, endB) = (a.Length, b.Length);
        while (endA > from && endB > from && a[endA - 1] == b[endB - 1])
            (endA, endB) = (endA - 1, endB - 1);
        var (middleA, middleB) = (a[from..endA], b[from..endB]);
        var letters = (middleA + middleB).All(char.IsLetter);
        var exchanged = middleA.Length == 2 && middleB.Length == 2 && middleA[0] == middleB[1] && middleA[1] == middleB[0];
        return letters && (exchanged || (middleA.Length <= 1 && middleB.Length <= 1));
    }
}
