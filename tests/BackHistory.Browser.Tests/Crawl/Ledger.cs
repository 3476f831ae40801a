using System.Collections.Concurrent;
using System.Globalization;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>What a crawl saw, over all who walked.</summary>
internal sealed class Ledger
{
    public ConcurrentDictionary<string, int> Pages { get; } = new(StringComparer.Ordinal);

    /// <summary>Forms and buttons, by what they do; each with who pressed it first.</summary>
    public ConcurrentDictionary<string, string> Forms { get; } = new(StringComparer.Ordinal);

    public ConcurrentDictionary<string, int> Links { get; } = new(StringComparer.Ordinal);

    /// <summary>Writing addresses that a page sent to, verb and template.</summary>
    public ConcurrentDictionary<string, int> Sent { get; } = new(StringComparer.Ordinal);

    private readonly ConcurrentQueue<string> _faults = new();

    public IReadOnlyCollection<string> Faults => _faults;

    /// <summary>Lines of a list that were needed.</summary>
    public ConcurrentDictionary<string, int> Excused { get; } = new(StringComparer.Ordinal);

    private int _compared;
    private int _resources;

    public int Compared => _compared;

    public void AddCompared(int fields) => Interlocked.Add(ref _compared, fields);

    public void AddResource() => Interlocked.Increment(ref _resources);

    /// <summary>Each is told at once: a walk takes minutes.</summary>
    public void Fault(string line)
    {
        if (_faults.Contains(line, StringComparer.Ordinal))
            return;
        _faults.Enqueue(line);
        Tell($"fault: {line}");
    }

    /// <summary>What is said while the crawl goes on; what a test writes stands there only at its end.</summary>
    public static void Tell(string words) => Console.WriteLine($"  {words}");

    public static Ledger Together(IEnumerable<Ledger> several)
    {
        var all = new Ledger();
        foreach (var one in several)
        {
            Add(one.Pages, all.Pages);
            Add(one.Links, all.Links);
            Add(one.Sent, all.Sent);
            Add(one.Excused, all.Excused);
            foreach (var (form, who) in one.Forms)
                all.Forms.TryAdd(form, who);
            foreach (var fault in one._faults)
                all._faults.Enqueue(fault);
            all._compared += one._compared;
            all._resources += one._resources;
        }

        return all;
    }

    private static void Add(ConcurrentDictionary<string, int> one, ConcurrentDictionary<string, int> all)
    {
        foreach (var (key, count) in one)
            all.AddOrUpdate(key, count, (_, n) => n + count);
    }

    public string Counts(int writing) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Pages.Count} pages, {Forms.Count} forms pressed, {_compared} fields compared with what was shown afterwards, "
                + $"{Links.Count} links followed, {_resources} answers, "
                + $"{Sent.Count} writing addresses pressed of {writing}, {Faults.Count} faults"
        );
}
