namespace BackHistory.History.Practices;

/// <summary>What an owner is asked about.</summary>
public enum ConsentKind
{
    /// <summary>That their horses are measured and the numbers kept.</summary>
    Measuring,

    /// <summary>That photographs are taken of their horses and kept.</summary>
    Photographs,

    /// <summary>That others than themselves see their horses here.</summary>
    Sharing,
}
