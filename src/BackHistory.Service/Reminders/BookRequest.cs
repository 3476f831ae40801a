namespace BackHistory.Service.Reminders;

/// <param name="FitterId">Who goes; null while nobody was named.</param>
/// <param name="Tell">The owner gets the date with an appointment for their calendar.</param>
/// <param name="EvenSo">False asks first: a visit for which the fitter has no room that day is refused as <c>clash</c>.</param>
public sealed record BookRequest(DateTimeOffset For, Guid? FitterId = null, bool Tell = true, bool EvenSo = true);
