namespace BackHistory.History.Reminders;

public enum FindingKind
{
    ChangedShape,
    Wider,
    Narrower,
    Hollower,
    Fuller,
    LessAlike,
    Lower,
    Higher,
    Heavier,
    Lighter,
}
