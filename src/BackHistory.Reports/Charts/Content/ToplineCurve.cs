namespace BackHistory.Reports.Charts.Content;

/// <summary>A registered topline: u towards the tail, v up, in mm; points from head to tail.</summary>
/// <param name="Label">When it was taken, as the key shall say it.</param>
/// <param name="Stations">The marked stations, by the name to print.</param>
public sealed record ToplineCurve(string Label, IReadOnlyList<PlanePoint> Points, IReadOnlyList<StationMark> Stations)
{
    internal void Check() => new SectionCurve(Label, Points).Check();
}
