using BackHistory.Shape.Analysis;

namespace BackHistory.History;

/// <summary>A decider's answer: the events that follow, or a refusal.</summary>
public readonly record struct Decided
{
    private Decided(IReadOnlyList<object> events, IReadOnlyList<object> beside, Refused? refused) =>
        (Events, SideDocuments, Refused) = (events, beside, refused);

    public IReadOnlyList<object> Events { get; }

    /// <summary>Saved in the same transaction: words and files, which must be erasable and are therefore no events.</summary>
    public IReadOnlyList<object> SideDocuments { get; }

    public Refused? Refused { get; }

    /// <summary>
    /// Tracings that were fitted in order to decide, for whoever works out what follows from the events. They are never stored, and
    /// nothing may follow from them that does not follow from the events.
    /// </summary>
    public IReadOnlyList<TracingFit> Fits
    {
        get => field ?? [];
        private init;
    }

    /// <summary>
    /// Its events say again what was recorded before, under another registration or visit: they were judged when they were entered.
    /// </summary>
    public bool CarriesOver { get; private init; }

    public static Decided Yes(params IReadOnlyList<object> events) => new(events, [], null);

    public static Decided No(Refused refused) => new([], [], refused);

    public static Decided No(string code, string message, RefusalKind kind = RefusalKind.Invalid, string? place = null) =>
        No(new Refused(code, message, kind, place));

    /// <summary>The same decision, with documents beside its events; nulls are left out.</summary>
    public Decided With(params IEnumerable<object?> beside) =>
        Refused is null
            ? new(Events, [.. SideDocuments, .. beside.OfType<object>()], null) { CarriesOver = CarriesOver, Fits = Fits }
            : this;

    /// <inheritdoc cref="Fits"/>
    public Decided Having(params IEnumerable<TracingFit> fits) => this with { Fits = [.. Fits, .. fits] };

    /// <inheritdoc cref="CarriesOver"/>
    public Decided CarryingOver() => this with { CarriesOver = true };

    public static implicit operator Decided(Refused refused) => No(refused);
}
