namespace BackHistory.Reports.Sheets;

/// <summary>One part of the tree or panel to set; texts as the caller writes them, with units.</summary>
/// <param name="What">"Tree, left", "Panel, front to back".</param>
/// <param name="Mark">In the workshop's own marks: "E½".</param>
/// <param name="NearestMark">The nearest whole mark.</param>
/// <param name="Remainder">What the nearest mark leaves over: "+1.4°".</param>
public sealed record SettingRow(string What, string Then, string Now, string Change, string Mark, string NearestMark, string Remainder);
