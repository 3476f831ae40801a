using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.Trends.SinceFit;

/// <summary>
/// What becomes of a horse that nobody measures again. Probabilities move slowly, so the future is looked at month by month and then
/// halved to the day within the month in which something happens.
/// </summary>
internal sealed class Outlook
{
    const int Months = 12;

    readonly JointEvidence _joint;
    readonly WatchRules _rules;
    readonly WatchState _state;
    readonly double _start;
    readonly Dictionary<double, (double Any, double OneWay)> _known = [];

    internal Outlook(JointEvidence joint, double asOfDay, WatchRules rules, WatchState state)
    {
        (_joint, _start, _rules, _state) = (joint, asOfDay, rules, state);
        ByMonth = [.. Enumerable.Range(0, Months + 1).Select(m => P(Day(m)).Any)];
    }

    /// <summary>Probability of a passed threshold now and after 1, 2, … 12 months.</summary>
    internal IReadOnlyList<double> ByMonth { get; }

    /// <summary>Whole days from today, so that months and days meet.</summary>
    double Day(int month) => _start + Math.Floor(month * DriftProcess.YearDays / Months);

    internal Forecast Forecast() =>
        new(
            First(day => P(day).Any >= 0.10, from: 0),
            First(day => P(day).Any >= 0.50, from: 0),
            First(day => P(day).Any >= 0.90, from: 0)
        );

    /// <summary>The first day on which the state would be another; a state that holds longer counts as the one before.</summary>
    internal DateOnly? ReassessOn() =>
        First(day => day > _start && HorseJudge.StateAt(_joint, day, P(day), _rules, _state) != _state, from: 1);

    DateOnly? First(Func<double, bool> holds, int from)
    {
        if (from == 0 && holds(_start))
            return Days.DateOf(_start);
        for (var month = 1; month <= Months; month++)
        {
            if (!holds(Day(month)))
                continue;
            var (before, at) = (Day(month - 1), Day(month));
            while (at - before > 1)
            {
                var middle = before + Math.Floor((at - before) / 2);
                if (holds(middle))
                    at = middle;
                else
                    before = middle;
            }
            return Days.DateOf(at);
        }
        return null;
    }

    (double Any, double OneWay) P(double day)
    {
        if (!_known.TryGetValue(day, out var p))
            _known[day] = p = _joint.PastThreshold(day);
        return p;
    }
}
