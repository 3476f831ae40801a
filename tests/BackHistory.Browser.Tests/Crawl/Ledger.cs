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

    public ConcurrentQueue<string> Faults { get; } = new();

    /// <summary>Lines of a list that were needed.</summary>
    public ConcurrentDictionary<string, int> Excused { get; } = new(StringComparer.Ordinal);

    private int _compared;
    private int _resources;

    public int Compared => _compared;

    public void AddCompared(int fields) => Interlocked.Add(ref _compared, fields);

    public void AddResource() => Interlocked.Increment(ref _resources);

    public string Counts(int writing) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Pages.Count} pages, {Forms.Count} forms pressed, {_compared} fields compared with what was shown afterwards, "
                + $"{Links.Count} links followed, {_resources} answers, "
                + $"{Sent.Count} writing addresses pressed of {writing}, {Faults.Count} faults"
        );
}
