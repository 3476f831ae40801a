using BackHistory.Formats.Sheets;

namespace BackHistory.Application.Imports;

/// <summary>
/// Tables as they were read when they were sent in, so that trying, entering and going on do not read them again. They may name people,
/// so they lie in memory only and go with their file; the longest unused go first, and what is gone is read again.
/// </summary>
public sealed class ParsedSheets
{
    /// <summary>A cell of a few letters takes about a hundred bytes: some fifty megabytes in all.</summary>
    internal const int MostCells = 500_000;

    private readonly Lock _lock = new();

    /// <summary>The longest unused first.</summary>
    private readonly LinkedList<(string File, string? Name, Sheet Sheet, int Cells)> _kept = new();

    /// <summary>Keeps a table, unless it is larger than everything that may be kept together.</summary>
    /// <param name="file">Hash of the bytes that it was read from.</param>
    /// <param name="name">Of the sheet, as it was asked for.</param>
    public void Keep(string file, string? name, Sheet sheet)
    {
        var cells = sheet.Headers.Count + sheet.Rows.Sum(r => r.Cells.Count);
        lock (_lock)
        {
            Remove(file, name);
            if (cells > MostCells)
                return;
            _kept.AddLast((file, name, sheet, cells));
            while (_kept.Sum(k => k.Cells) > MostCells)
                _kept.RemoveFirst();
        }
    }

    public Sheet? Find(string file, string? name)
    {
        lock (_lock)
        {
            if (Node(file, name) is not { } node)
                return null;
            _kept.Remove(node);
            _kept.AddLast(node);
            return node.Value.Sheet;
        }
    }

    /// <summary>Its file is gone, or is not needed any more.</summary>
    public void Forget(string file, string? name)
    {
        lock (_lock)
            Remove(file, name);
    }

    private void Remove(string file, string? name)
    {
        if (Node(file, name) is { } node)
            _kept.Remove(node);
    }

    private LinkedListNode<(string File, string? Name, Sheet Sheet, int Cells)>? Node(string file, string? name)
    {
        for (var node = _kept.First; node is not null; node = node.Next)
            if (node.Value.File == file && node.Value.Name == name)
                return node;
        return null;
    }
}
