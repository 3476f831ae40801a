namespace BackHistory.Formats.Sheets;

/// <summary>In which letters a table was written.</summary>
public enum SheetLetters
{
    Utf8,
    Utf16,

    /// <summary>Code page 1252, as older spreadsheets of western Europe save it: nothing in the file says so, so a person has to
    /// look.</summary>
    Windows1252,
}
