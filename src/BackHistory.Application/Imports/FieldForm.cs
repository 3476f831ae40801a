namespace BackHistory.Application.Imports;

/// <summary>How a cell is read.</summary>
public enum FieldForm
{
    Text,
    Date,
    Length,
    Weight,
    Number,

    /// <summary>A number with the unit behind it, or in a column of its own.</summary>
    WithUnit,

    /// <summary>Two numbers in one cell.</summary>
    Pair,

    /// <summary>The points of a traced line in one cell.</summary>
    Points,
}
