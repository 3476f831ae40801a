namespace BackHistory.History.Horses;

public enum NotedAs
{
    Work,
    Care,
    File,
}
