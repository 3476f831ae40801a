namespace BackHistory.History.Reminders.Policy;

/// <summary>
/// Which reminder silences which. A vet's caution silences everything else about the horse; a changed shape silences what only asks for a
/// look; a measurement to be taken again silences the calendar; and a horse out of work is not called in by the calendar. A caution that
/// was ended by hand goes on silencing until somebody says that the veterinary surgeon has cleared the horse.
/// </summary>
internal sealed class SuppressionRules
{
    private readonly bool _outOfWork;
    private readonly Guid? _awaitsVet;
    private readonly List<(Guid Id, ReminderFamily Family, Guid? SaddleId)> _speaking = [];

    /// <param name="awaitsVet">The caution whose end still wants the vet's word; null without one.</param>
    public SuppressionRules(bool outOfWork, Guid? awaitsVet, IEnumerable<Reminder> standing)
    {
        _outOfWork = outOfWork;
        _awaitsVet = awaitsVet;
        // The weightiest first: who is silenced itself silences nobody.
        foreach (
            var r in standing
                .Where(r => r.State != ReminderState.Pending)
                .OrderBy(r => Families.FamilyOf(r.Rule))
                .ThenBy(r => r.RaisedAt)
                .ThenBy(r => r.Id)
        )
        {
            if (Silenced(Families.FamilyOf(r.Rule), r.SaddleId, r.Id) is null)
                Add(r.Id, Families.FamilyOf(r.Rule), r.SaddleId);
        }
    }

    public void Add(Guid id, ReminderFamily family, Guid? saddleId) => _speaking.Add((id, family, saddleId));

    /// <returns>Why a reminder of this family is silent, and which other speaks instead; null when it may speak.</returns>
    public (MuteReason Because, Guid? By)? Silenced(ReminderFamily family, Guid? saddleId, Guid? itself = null)
    {
        var other = _speaking
            .Where(v => v.Id != itself && Outweighs(v.Family, v.SaddleId, family, saddleId))
            .OrderBy(v => v.Family)
            .Select(v => (Guid?)v.Id)
            .FirstOrDefault();
        if (other is not null)
            return (MuteReason.CoveredByAnother, other);
        if (_awaitsVet is not null && family != ReminderFamily.Vet)
            return (MuteReason.AwaitsVet, _awaitsVet);
        return _outOfWork && family is (ReminderFamily.Calendar or ReminderFamily.Recheck) ? (MuteReason.OutOfWork, null) : null;
    }

    private static bool Outweighs(ReminderFamily one, Guid? ofSaddle, ReminderFamily other, Guid? saddleId) =>
        (one, other) switch
        {
            (ReminderFamily.Vet, not ReminderFamily.Vet) => true,
            (ReminderFamily.Shape, ReminderFamily.Recheck) => ofSaddle == saddleId,
            (ReminderFamily.Shape, ReminderFamily.Again or ReminderFamily.Calendar) => true,
            (ReminderFamily.Recheck or ReminderFamily.Again, ReminderFamily.Calendar) => true,
            _ => false,
        };
}
