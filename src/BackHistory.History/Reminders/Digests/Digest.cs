namespace BackHistory.History.Reminders.Digests;

/// <summary>A letter about many horses as it stands.</summary>
public sealed partial record Digest : IFolded<Digest>
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public LetterKind Kind { get; init; }

    public Guid To { get; init; }

    public DateOnly On { get; init; }

    public LetterState State { get; init; }

    /// <inheritdoc/>
    public static Digest? After(Digest? before, object e) =>
        (before, e) switch
        {
            (_, DigestOwed d) => From(d),
            (null, _) => null,
            ({ } known, DigestSent d) => known.Then(d),
            ({ } known, DigestGivenUp d) => known.Then(d),
            ({ } known, DigestNoted d) => known.Then(d),
            _ => throw UnknownEventException.In(nameof(Digest), e),
        };

    private static Digest From(DigestOwed e) =>
        new()
        {
            Id = e.DigestId,
            Kind = e.Kind,
            To = e.To,
            On = e.On,
        };

    private Digest Then(DigestSent e) => this with { State = LetterState.Sent };

    private Digest Then(DigestGivenUp e) => this with { State = LetterState.GivenUp };

    private Digest Then(DigestNoted e) => this with { State = Letter.After(State, e.Word) };
}
