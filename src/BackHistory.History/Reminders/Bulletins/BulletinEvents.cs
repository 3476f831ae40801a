namespace BackHistory.History.Reminders;

/// <summary>The life of one letter that is about many horses: the manager's digest of a week, a fitter's list of a day.</summary>
public interface IBulletinEvent : IHappened
{
    /// <summary>The stream's id, and the letter's.</summary>
    Guid BulletinId { get; }
}

/// <summary>A letter about many horses is owed: the intent, before anything is sent.</summary>
/// <param name="To">The person's id.</param>
/// <param name="On">The day, or the first day of the week, that it is about.</param>
public sealed record BulletinOwed(Guid BulletinId, LetterKind Kind, Guid To, DateOnly On, DateTimeOffset TakenAt, Guid By) : IBulletinEvent;

/// <summary>The letter about many horses went out.</summary>
public sealed record BulletinSent(Guid BulletinId, string MessageId, string Through, DateTimeOffset TakenAt, Guid By) : IBulletinEvent;

/// <summary>The letter about many horses cannot be sent.</summary>
public sealed record BulletinGivenUp(Guid BulletinId, string Reason, DateTimeOffset TakenAt, Guid By) : IBulletinEvent;

/// <summary>What a mail server answered or reported about it.</summary>
public sealed record BulletinNoted(Guid BulletinId, DeliveryWord Word, string Text, DateTimeOffset TakenAt, Guid By) : IBulletinEvent;
