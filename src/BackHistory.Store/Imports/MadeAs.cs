namespace BackHistory.Store.Imports;

public enum MadeAs
{
    Person,
    Yard,
    Horse,
    Saddle,
    Visit,
    Entry,
    Work,
    Gauge,
}
