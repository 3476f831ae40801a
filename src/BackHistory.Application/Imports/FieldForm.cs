namespace BackHistory.Application.Imports;

/// <summary>How a cell is read.</summary>
public enum FieldForm
{
    Text,
    Date,
    Length,
    Weight,
    Number,

    /// <summary>Two numbers in one cell.</summary>
    Pair,

    /// <summary>The points of a traced line in one cell.</summary>
    Points,
}
