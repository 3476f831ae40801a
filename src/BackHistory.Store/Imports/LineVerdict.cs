namespace BackHistory.Store.Imports;

public enum LineVerdict
{
    Enters,
    Already,
    Refused,
}
