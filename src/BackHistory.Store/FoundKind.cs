namespace BackHistory.Store;

public enum FoundKind
{
    Horse,
    Owner,
    Yard,
    Saddle,

    /// <summary>A horse whose registration was withdrawn; from its page it is put back.</summary>
    WithdrawnHorse,
}
