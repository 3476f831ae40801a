using BackHistory.Application.Trends;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Saddles;

/// <param name="Baseline">The visit to which it was set; null where none was traced near enough.</param>
/// <param name="Now">The latest visit with a tracing behind the shoulder.</param>
/// <param name="Asked">Null where one of the two is missing.</param>
public sealed record SaddleProposal(
    Saddle Saddle,
    HorseRecord Horse,
    GaugeTable? Gauge,
    SaddleWork? LastWork,
    VisitRecord? Baseline,
    VisitRecord? Now,
    Standing Stands,
    SettingChanges? Asked
)
{
    /// <summary>That the horse goes to the vet before its saddle is changed; null where no caution stands.</summary>
    public Reminder? Caution { get; init; }

    public ProposedChange? Tree(string side) => Asked?.Changes.FirstOrDefault(c => c.Of == $"tree-{side}" || c.Of == "tree");

    /// <summary>The mark to set a side to; null where the gauge does not reach, or nothing that can be told has changed.</summary>
    public string? MarkFor(string side) => Tree(side) is { SetTo: { } reading } change && change.IsTold ? GaugeText.Write(reading) : null;
}
