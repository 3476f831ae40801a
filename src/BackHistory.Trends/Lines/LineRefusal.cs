namespace BackHistory.Trends.Lines;

/// <summary>Why a line is not answered; the first of the list that applies is the one given.</summary>
internal enum RefusalCode
{
    Unreadable,
    NotFinite,
    NoPoints,
    BadSd,
    BadDate,
}

internal sealed record LineRefusal(RefusalCode Code, string Message)
{
    internal string Name =>
        Code switch
        {
            RefusalCode.Unreadable => "unreadable",
            RefusalCode.NotFinite => "not-finite",
            RefusalCode.NoPoints => "no-points",
            RefusalCode.BadSd => "bad-sd",
            _ => "bad-date",
        };
}
