namespace BackHistory.History.Horses;

/// <summary>The ids under which what was withdrawn stands again, and a visit at the horse to which it was given: the same however often it
/// is asked, so that nothing is put back twice.</summary>
public static class VisitIds
{
    /// <summary>Of a visit, or of an entry of one.</summary>
    public static Guid RestoredId(Guid id) => DeterministicId.From("restored", id.ToString());

    public static Guid GivenId(Guid visitId, Guid toHorseId) => DeterministicId.From("given", visitId.ToString(), toHorseId.ToString());
}
