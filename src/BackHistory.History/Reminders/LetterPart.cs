namespace BackHistory.History.Reminders;

/// <summary>What a letter can say beside the words of its template.</summary>
public enum LetterPart
{
    /// <summary>The reminder's finding, in a plain sentence.</summary>
    Finding,

    /// <summary>That somebody was written to and has not answered, or could not be reached.</summary>
    Silence,

    /// <summary>The booked visit, with an entry for the reader's calendar.</summary>
    Booking,

    /// <summary>That the booked visit will not take place; it goes from the reader's calendar.</summary>
    BookingEnd,

    /// <summary>That a reader moved the visit, from when to when.</summary>
    VisitMoved,

    /// <summary>That a reader cancelled the visit, and what they said.</summary>
    VisitCancelled,

    /// <summary>The numbers that the finding rests on, and the trend that drove it.</summary>
    Evidence,

    /// <summary>The section as last traced over the one when the saddle was set.</summary>
    Back,

    /// <summary>Three links to answer by.</summary>
    Answers,

    /// <summary>A link to the horse, for somebody of the practice or a guest.</summary>
    HorseLink,

    /// <summary>A link to the practice's reminders.</summary>
    RemindersLink,

    /// <summary>A link to choose another day for the booked visit.</summary>
    MoveLink,

    /// <summary>The reminders of all horses, by what they ask for.</summary>
    Week,

    /// <summary>The stops of a day.</summary>
    Day,
}
