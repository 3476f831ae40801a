namespace BackHistory.Store.Imports;

public enum ImportState
{
    SentIn,
    Entering,
    Entered,
    ImportRollback,
    TakenBack,
}
