namespace BackHistory.Application.Imports;

/// <summary>What the name in a cell can be of.</summary>
internal enum NamedThing
{
    Person,
    Yard,
    Horse,
    Saddle,
}
