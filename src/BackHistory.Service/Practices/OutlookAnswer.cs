using BackHistory.Store.Practices;
using BackHistory.Trends.Caseload;

namespace BackHistory.Service.Practices;

/// <summary>Refits done in the last months and expected in the next, the present month first among those.</summary>
/// <param name="PastNow">Horses that are expected to be past a limit already.</param>
public sealed record OutlookAnswer(int Horses, double PastNow, IReadOnlyList<MonthDone> Done, IReadOnlyList<MonthForecast> Expected);
