using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Practices;

public sealed record GaugeRequest(string Name, string Measure, string Unit, IReadOnlyList<GaugeMark> Marks, string Reason);
