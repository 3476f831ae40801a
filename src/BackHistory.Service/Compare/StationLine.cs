namespace BackHistory.Service.Compare;

public sealed record StationLine(string Name, double At, IReadOnlyList<double[]> Line);
