using BackHistory.Shape;

namespace BackHistory.History;

/// <summary>Why a command was not carried out: a named value with a sentence for a person.</summary>
/// <param name="Code">Stable, kebab-case; the <c>type</c> of the problem details.</param>
/// <param name="Message">What is wrong, what was kept and what to do.</param>
/// <param name="Place">Where in the request, for example <c>entries[2]</c>; null for the whole.</param>
public sealed record Refused(string Code, string Message, RefusalKind Kind = RefusalKind.Invalid, string? Place = null);

/// <summary>How a refusal answers over HTTP; the mapping stands once, in the service.</summary>
public enum RefusalKind
{
    /// <summary>The request cannot be carried out as it stands.</summary>
    Invalid,

    /// <summary>There is no such thing here; somebody else's looks the same.</summary>
    NotFound,

    /// <summary>It contradicts what has happened already.</summary>
    Conflict,

    /// <summary>The caller did not say which version it saw.</summary>
    VersionMissing,

    /// <summary>The history has moved on since the version that the caller saw.</summary>
    Stale,
}

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

/// <summary>What came of a command: the stream's new version, or a refusal with nothing written.</summary>
/// <param name="Repeated">The same command had been carried out before; nothing was done this time.</param>
/// <param name="Sequence">The store-wide position of the last event, for readers that wait for their own write.</param>
public sealed record Outcome(Guid StreamId, long Version, long Sequence, Refused? Refused, bool Repeated = false);
