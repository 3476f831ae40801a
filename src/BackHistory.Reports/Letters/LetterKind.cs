namespace BackHistory.Reports.Letters;

/// <summary>The letters of the practice. Each has a shipped template in every <see cref="ReportLanguage"/>, which the practice may
/// edit.</summary>
public enum LetterKind
{
    /// <summary>To the owner: the back has left the shape that the saddle was set to.</summary>
    OwnerRefit,

    /// <summary>To the owner: a visit is due by the calendar.</summary>
    OwnerCalendar,

    /// <summary>To the owner: the last measurement was too poor to judge by.</summary>
    OwnerMeasureAgain,

    /// <summary>To the owner: what was seen belongs before a veterinary surgeon first; mutes the refit letter.</summary>
    OwnerVetFirst,

    /// <summary>To the owner: what an earlier letter rested on does not stand; an entry was corrected, or tracings are taken
    /// again.</summary>
    OwnerGroundWithdrawn,

    /// <summary>To the manager, weekly: who needs a visit, why, and who was told.</summary>
    ManagerDigest,

    /// <summary>To the fitter: the stops and horses of one day.</summary>
    FitterDay,

    /// <summary>To the veterinary surgeon: one horse's condition.</summary>
    VetNote,

    /// <summary>To the owner: a visit is booked, with the appointment for their calendar.</summary>
    OwnerBooking,

    /// <summary>To the owner: a booked visit will not take place.</summary>
    OwnerBookingCancelled,

    /// <summary>To the practice's second person: an owner has not answered, or cannot be reached.</summary>
    NoAnswer,
}
