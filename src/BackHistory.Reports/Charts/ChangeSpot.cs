namespace BackHistory.Reports.Charts;

/// <summary>A place of the later back with its change.</summary>
/// <param name="Along">From the datum towards the tail, mm.</param>
/// <param name="Across">To the horse's right, mm.</param>
/// <param name="Change">Towards more horse, mm; null where one of the two was not traced.</param>
public sealed record ChangeSpot(double Along, double Across, double? Change);
