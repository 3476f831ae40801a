namespace BackHistory.History.Reminders;

/// <summary>The letters that there are, each with a row in <see cref="LetterKinds"/>; the names stand in events and never change.</summary>
public enum LetterKind
{
    OwnerRefit,
    OwnerCheck,
    VetCaution,
    GroundWithdrawn,
    MeasureAgain,

    /// <summary>To the second person: the first has not answered, or cannot be reached.</summary>
    NoAnswer,

    BookingMade,
    BookingCancelled,
    ManagerDigest,
    FitterDay,
    VetNote,

    /// <summary>To the practice: a reader moved a visit by the link in their letter.</summary>
    VisitMoved,

    /// <summary>To the practice: a reader cancelled a visit by the link in their letter.</summary>
    VisitCancelled,
}
