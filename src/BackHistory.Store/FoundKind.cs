namespace BackHistory.Store;

public enum FoundKind
{
    Horse,
    Owner,
    Yard,
    Saddle,
}
