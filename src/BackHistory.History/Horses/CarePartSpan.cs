namespace BackHistory.History.Horses;

/// <summary>A part in a horse's care with its days.</summary>
/// <param name="Until">Null while the person has it.</param>
public sealed record CarePartSpan(Guid PersonId, CareRole Role, DateTimeOffset From, DateTimeOffset? Until)
{
    /// <summary>Who had which part from when until when, in the order in which it was noted. Pure.</summary>
    /// <param name="history">A horse's events in their order; those of other kinds are left out.</param>
    public static IReadOnlyList<CarePartSpan> In(IEnumerable<object> history)
    {
        var spans = new List<CarePartSpan>();
        foreach (var e in history)
        {
            if (e is CareRoleTaken taken)
                spans.Add(new CarePartSpan(taken.PersonId, taken.Role, taken.TakenAt, null));
            if (e is not CareRoleEnded ended)
                continue;
            var open = spans.FindIndex(s => s.Until is null && s.PersonId == ended.PersonId && s.Role == ended.Role);
            if (open >= 0)
                spans[open] = spans[open] with { Until = ended.TakenAt };
        }

        return spans;
    }
}
