namespace BackHistory.Service.Sharing;

/// <summary>Why a link or a grant shows nothing.</summary>
public enum Closed
{
    NotOurs,
    Ended,
    TakenBack,
    OtherOwner,
    OtherDevice,
    FirstDevice,
}
