namespace BackHistory.Store.Horses;

public enum CaseloadOrder
{
    Urgency,
    Name,
    LastVisit,
}
