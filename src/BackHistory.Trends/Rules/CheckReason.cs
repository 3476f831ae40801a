namespace BackHistory.Trends.Rules;

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
