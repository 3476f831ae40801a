using BackHistory.Shape.Gauges;

namespace BackHistory.History.Practices;

/// <summary>A workshop's gauge as it stands.</summary>
public sealed record GaugeTable(
    string Key,
    int Version,
    string Name,
    string Measure,
    string Unit,
    IReadOnlyList<GaugeMark> Marks,
    bool Retired = false
)
{
    /// <summary>For conversions. A table was checked when it was entered.</summary>
    public Gauge Gauge() =>
        Shape.Gauges.Gauge.Create(Name, Measure, Unit, Marks) switch
        {
            ({ } gauge, _) => gauge,
            (_, var fault) => throw new InvalidOperationException($"the stored gauge '{Key}' is none: {fault}"),
        };
}
