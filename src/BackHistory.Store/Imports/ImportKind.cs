namespace BackHistory.Store.Imports;

public enum ImportKind
{
    People,
    Yards,
    Horses,
    Saddles,
    Visits,
    SaddleWork,
    Gauges,
}
