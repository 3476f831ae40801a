namespace BackHistory.History.Profiles;

/// <summary>A saddle was set or altered for this horse.</summary>
/// <param name="Levelled">Flocking was added in places, to no visit's shape: what the back is compared with stays as it was.</param>
public sealed record SaddleFit(
    Guid SaddleId,
    Guid WorkId,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    bool Set,
    bool Fresh,
    bool Levelled = false
)
{
    /// <summary>Those from which changes are counted: all that did more than level the panels, or any where nothing else was
    /// done.</summary>
    public static IEnumerable<SaddleFit> Counting(IReadOnlyCollection<SaddleFit> ofSaddle) =>
        ofSaddle.Any(f => !f.Levelled) ? ofSaddle.Where(f => !f.Levelled) : ofSaddle;
}
