using System.Collections.Concurrent;
using System.Globalization;

namespace BackHistory.Attack.Tests.Attacked;

/// <summary>What was tried, how often, and what did not hold.</summary>
internal sealed class Ledger(int seed)
{
    /// <summary>An answer that takes longer is written down beside the counts.</summary>
    private static readonly TimeSpan Slow = TimeSpan.FromSeconds(5);

    private readonly ConcurrentDictionary<string, int> _counts = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, int> _answers = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<string> _faults = new();
    private readonly ConcurrentQueue<string> _slow = new();

    /// <summary>The chance of this run: the same seed tries the same things in the same order.</summary>
    public Random Chance { get; } = new(seed);

    public int Attempts => _counts.Values.Sum();

    public IReadOnlyCollection<string> Faults => _faults;

    /// <summary>Of each kind of attack, how many attempts.</summary>
    public IReadOnlyList<(string Name, int Count)> Counts =>
        [.. _counts.OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => (c.Key, c.Value))];

    public void Count(string kind, int status)
    {
        _counts.AddOrUpdate(kind, 1, (_, n) => n + 1);
        _answers.AddOrUpdate(status.ToString(CultureInfo.InvariantCulture), 1, (_, n) => n + 1);
    }

    public void Took(string what, TimeSpan time)
    {
        if (time > Slow)
            _slow.Enqueue(string.Create(CultureInfo.InvariantCulture, $"{time.TotalSeconds:0.0} s: {what}"));
    }

    public void Fault(string what) => _faults.Enqueue(what);

    /// <summary>One line: the seed, the attempts of each kind, the answers and the faults.</summary>
    public string Line(string name) =>
        string.Create(CultureInfo.InvariantCulture, $"{name}: seed {seed}, {Attempts} attempts (")
        + string.Join(", ", Counts.Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Name} {c.Count}")))
        + "), answers "
        + string.Join(", ", _answers.OrderBy(a => a.Key, StringComparer.Ordinal).Select(a => $"{a.Key}: {a.Value}"))
        + string.Create(CultureInfo.InvariantCulture, $", {_faults.Count} faults")
        + (_slow.IsEmpty ? "" : $", {_slow.Count} slow: {string.Join("; ", _slow.Take(5))}");

    /// <summary>What did not hold, in full.</summary>
    public string Said() => string.Join("\n\n", _faults.Take(60));
}
