namespace BackHistory.Trends.SinceFit;

/// <summary>How long a horse may go without a visit whatever its numbers say (method.md section 7; rule of thumb).</summary>
/// <param name="SteadyDays">In steady work.</param>
/// <param name="CloseDays">Young, old, back from a lay-off, changing work, or after a change of weight.</param>
/// <param name="YoungUnder">Years of age below which <paramref name="CloseDays"/> holds.</param>
/// <param name="OldOver">Years of age above which it holds.</param>
/// <param name="WeightChangePercent">Change of weight since the baseline from which it holds.</param>
/// <param name="NewSaddleDays">After a new or re-flocked saddle.</param>
/// <param name="SettledAfterDays">A visit earlier than this after the saddle work does not count as the check of how it settled.</param>
/// <param name="FirstVisitDays">From registering a horse to its first visit.</param>
public sealed record CalendarRules(
    int SteadyDays = 180,
    int CloseDays = 90,
    double YoungUnder = 7,
    double OldOver = 18,
    double WeightChangePercent = 5,
    int NewSaddleDays = 42,
    int SettledAfterDays = 14,
    int FirstVisitDays = 30
);

/// <summary>What is known of the horse's life that the numbers do not tell.</summary>
/// <param name="Born">Date of birth, null = unknown.</param>
/// <param name="OutOfWork">Nothing but the interval of steady work and the forecast calls for a visit then.</param>
/// <param name="SaddleNewOrReflocked">Date of the last such work.</param>
public sealed record HorseCircumstances(
    DateOnly? Born = null,
    bool BackFromLayOff = false,
    bool ChangingWork = false,
    bool OutOfWork = false,
    DateOnly? SaddleNewOrReflocked = null
)
{
    public static HorseCircumstances Unknown { get; } = new();
}

/// <summary>Why a visit is due.</summary>
public enum CheckReason
{
    /// <summary>No visit on record.</summary>
    NoVisit,

    /// <summary>A tenth chance that a threshold has been crossed unseen.</summary>
    Forecast,
    SteadyWork,
    YoungHorse,
    OldHorse,
    BackFromLayOff,
    ChangingWork,
    WeightChange,
    NewSaddle,
}

/// <summary>When the next check is due, and why then.</summary>
public sealed record NextCheck(DateOnly Due, CheckReason Reason);
