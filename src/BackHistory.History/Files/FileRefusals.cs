namespace BackHistory.History.Files;

public static class FileRefusals
{
    public static readonly Refused NoSuchFile = new(
        "no-such-file",
        "There is no such file here, or it was removed or erased.",
        RefusalKind.NotFound
    );

    public static readonly Refused FileExists = new("file-exists", "This file was attached already.", RefusalKind.Conflict);

    public static readonly Refused TooManyPeople = new("too-many-people", "At most 50 people are named on one file.", Place: "shows");
}
