using BackHistory.History;

namespace BackHistory.Application.Imports;

public static class ImportRefusals
{
    public static readonly Refused NoSuchImport = new("no-such-import", "There is no such import here.", RefusalKind.NotFound);

    public static readonly Refused FileGone = new(
        "file-gone",
        "The spreadsheet was erased after it was entered. Send it in again.",
        RefusalKind.Conflict
    );

    public static readonly Refused Unanswered = new("unanswered", "Something has to be answered first. Try the plan to see what.");

    public static readonly Refused NotNow = new(
        "not-now",
        "The import is being entered or taken back, or that is done already.",
        RefusalKind.Conflict
    );
}
