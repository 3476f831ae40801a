namespace BackHistory.History.Files;

public enum FileKind
{
    Photograph,
    Document,
}
