namespace BackHistory.History.Horses;

/// <summary>An apprentice entered this, or added to it: its numbers are shown, and count in no decision before somebody confirms
/// them.</summary>
public sealed record ConfirmationAsked(Guid VisitId, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

/// <summary>Somebody who may answer for it looked at what an apprentice entered, and confirmed it.</summary>
public sealed record VisitConfirmed(Guid VisitId, DateTimeOffset TakenAt, Guid By) : IVisitEvent;
