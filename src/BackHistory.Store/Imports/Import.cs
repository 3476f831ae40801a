namespace BackHistory.Store.Imports;

/// <summary>A spreadsheet that was sent in, what its columns mean and how far it was entered. The file itself lies beside it until it was
/// entered or taken back.</summary>
/// <param name="Generation">How many imports had been taken back before: what was taken back can be entered again, as new things.</param>
public sealed record Import(Guid Id, string Name, int Generation, DateTimeOffset At, Guid By)
{
    /// <summary>Hash of its bytes; null once they are gone, since they may name people.</summary>
    public string? File { get; init; }

    public string? Sheet { get; init; }

    public ImportState State { get; init; }

    public ImportPlan? Plan { get; init; }

    public int Lines { get; init; }

    public ImportCounts Counts { get; init; } = new(0, 0, 0);

    public ImportCounts TakenBack { get; init; } = new(0, 0, 0);
}

public enum ImportState
{
    SentIn,
    Entering,
    Entered,
    ImportRollback,
    TakenBack,
}

public enum ImportKind
{
    People,
    Yards,
    Horses,
    Saddles,
    Visits,
}

/// <summary>What was answered about a spreadsheet: nothing of it is guessed.</summary>
/// <param name="Columns">Header to field; a column that is not named is not read.</param>
/// <param name="DateFormat">Of dates that are written as text, for example <c>dd.MM.yyyy</c>.</param>
/// <param name="DecimalMark">Of numbers that are written as text: <c>.</c> or <c>,</c>.</param>
/// <param name="LengthUnit">Of lengths that name none themselves: mm, cm, in, hands.</param>
/// <param name="WeightUnit">kg or lb.</param>
public sealed record ImportPlan(
    ImportKind Kind,
    IReadOnlyDictionary<string, string> Columns,
    string? DateFormat = null,
    string? DecimalMark = null,
    string? LengthUnit = null,
    string? WeightUnit = null
);

/// <param name="Entered">Lines that entered something; when taken back: what was.</param>
/// <param name="Already">Lines whose content was here before; when taken back: what stays because something else rests on it.</param>
public sealed record ImportCounts(int Entered, int Already, int Refused);

public enum LineVerdict
{
    Enters,
    Already,
    Refused,
}

/// <summary>What became of one line.</summary>
/// <param name="Column">The header of the cell that is wrong.</param>
/// <param name="Made">What entering it made, so that it can be taken back.</param>
/// <param name="StaysBecause">Why it could not be taken back.</param>
public sealed record ImportLine(
    Guid Id,
    Guid ImportId,
    int Line,
    LineVerdict Verdict,
    string? Code,
    string? Message,
    string? Column,
    IReadOnlyList<MadeByImport> Made,
    bool TakenBack = false,
    string? StaysBecause = null
);

/// <param name="Stream">The horse or the saddle in whose history it stands; the person or yard itself.</param>
public sealed record MadeByImport(MadeAs As, Guid Stream, Guid Id);

public enum MadeAs
{
    Person,
    Yard,
    Horse,
    Saddle,
    Visit,
    Entry,
}
