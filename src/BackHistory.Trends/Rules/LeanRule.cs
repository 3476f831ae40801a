namespace BackHistory.Trends.Rules;

/// <summary>
/// When the tracings of a visit count as leaning alike. All are rules of thumb without a source; the tests of Trends state what they catch
/// and what they hold up.
/// </summary>
/// <param name="Scatter"> The stations lean alike when the standard deviation between their leans is at most this share of their mean, or
/// no more than their noise: what moved at one place only is no lean.
/// </param>
/// <param name="SharedDegrees"> How far both sides may steepen or flatten together between visits though the back did not, degrees:
/// stance, breathing, the hand. Where they share more than this, and one side has moved at least three times as far as the other, that
/// side has changed and no sheet was turned.
/// </param>
/// <param name="ReadingOdds">
/// Odds from which readings by inclinometer settle by themselves whether the visit leans or the back has changed.
/// </param>
public sealed record LeanRule(double Scatter = 0.5, double SharedDegrees = 2.5, double ReadingOdds = 5);
