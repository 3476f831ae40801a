using BackHistory.History.Practices;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Who hears of a horse: first its owner; the practice's manager when nobody answers, or when there is no owner.</summary>
/// <param name="Tracer">Who levels a sheet that leans and traces again: whoever of the practice traced, else its manager.</param>
public sealed record Readers(Guid? First, Guid? Second, Guid? Tracer = null)
{
    /// <param name="tracer">Whoever of the practice traced.</param>
    public static Readers Of(Guid? owner, Guid? manager, Guid? tracer = null) =>
        new(owner ?? manager, owner is null || owner == manager ? null : manager, tracer ?? manager);

    /// <summary>Of several managers the same one is written to every time: the first by id.</summary>
    public static Person? ManagerOf(IEnumerable<Person> people) => people.Where(p => p.Role == PersonRole.Manager).MinBy(p => p.Id);

    /// <summary>Who hears of a reminder once more: of tracings that lean, whoever heard of them first, since by now somebody else may have
    /// traced.</summary>
    public Guid? FirstReaderOf(Reminder reminder) =>
        reminder.Evidence.Leans is not null && reminder.Post.Count > 0 ? reminder.Post[0].To : FirstReaderFor(reminder.Evidence);

    /// <summary>Tracings that lean are the practice's own affair: its owner is not written to.</summary>
    internal Guid? FirstReaderFor(Evidence evidence) => evidence.Leans is null ? First : Tracer;

    /// <summary>Who is told when that person does not answer: nobody is asked to chase himself.</summary>
    internal Guid? After(Evidence evidence) => Second == FirstReaderFor(evidence) ? null : Second;
}
