namespace BackHistory.Store.Imports;

/// <summary>What was answered about a spreadsheet: nothing of it is guessed.</summary>
/// <param name="Columns">Header to field; a column that is not named is not read.</param>
/// <param name="DateFormat">Of dates that are written as text, for example <c>dd.MM.yyyy</c>.</param>
/// <param name="DecimalMark">Of numbers that are written as text: <c>.</c> or <c>,</c>.</param>
/// <param name="LengthUnit">Of lengths that name none themselves: mm, cm, in, hands.</param>
/// <param name="WeightUnit">kg or lb.</param>
/// <param name="DateFormats">Where dates are written in several ways; they go before <paramref name="DateFormat"/>.</param>
/// <param name="Answers">To what was asked about single values, by what a question is <c>of</c>: which station a word is, whether a name
/// is a known one. They may name people and go with the file.</param>
public sealed record ImportPlan(
    ImportKind Kind,
    IReadOnlyDictionary<string, string> Columns,
    string? DateFormat = null,
    string? DecimalMark = null,
    string? LengthUnit = null,
    string? WeightUnit = null,
    IReadOnlyList<string>? DateFormats = null,
    IReadOnlyDictionary<string, string>? Answers = null
);
