using BackHistory.History.Saddles;

namespace BackHistory.Service.Saddles;

public sealed record SaddleRequest(
    string Label,
    string? Tree,
    string? Panel,
    string? Girthing,
    string? Gauge,
    Guid? OwnerId,
    string? Reason
)
{
    public SaddleDetails Details => new(Label, Tree, Panel, Girthing, Gauge);
}
