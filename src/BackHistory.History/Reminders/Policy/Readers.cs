namespace BackHistory.History.Reminders.Policy;

/// <summary>Who hears of a horse: first its owner; the practice's manager when nobody answers, or when there is no owner.</summary>
/// <param name="Tracer">Who levels a sheet that leans and traces again: whoever of the practice traced, else its manager.</param>
public sealed record Readers(Guid? First, Guid? Second, Guid? Tracer = null)
{
    /// <summary>Tracings that lean are the practice's own affair: its owner is not written to.</summary>
    internal Guid? FirstReaderFor(Evidence evidence) => evidence.Leans is null ? First : Tracer;

    /// <summary>Who is told when that person does not answer: nobody is asked to chase himself.</summary>
    internal Guid? After(Evidence evidence) => Second == FirstReaderFor(evidence) ? null : Second;
}
