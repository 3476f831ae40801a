using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Joint;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Language.Decisions;

/// <summary>The decision in plain words, each sentence with the key of what it says; every number in it stands in the decision
/// too.</summary>
public static class DecisionSentences
{
    /// <param name="rules">Those that it was decided by: they name the patterns.</param>
    public static IReadOnlyList<Statement> InWords(
        this HorseDecision decision,
        WatchRules rules,
        LengthUnit lengths = LengthUnit.Millimetres,
        ReportLanguage language = default
    ) => new Telling(decision, rules.Effective, new(language, lengths)).All();

    /// <summary>An assessment with the decision on each saddle in words.</summary>
    /// <param name="rules">Those that it was decided by: they name the patterns.</param>
    public static Assessment InWords(this Assessment assessment, WatchRules rules) =>
        assessment with
        {
            Saddles = [.. assessment.Saddles.Select(s => s with { Decision = s.Decision with { Statements = s.Decision.InWords(rules) } })],
        };

    /// <summary>Why a horse stands as it does: what is said of the saddle that is worst off.</summary>
    public static string InEnglish(Assessment assessment, WatchRules rules) =>
        assessment.Worst is { } worst
            ? string.Join(' ', worst.Decision.InWords(rules).Where(s => Says.Contains(s.Kind, StringComparer.Ordinal)).Select(s => s.Text))
            : ReportLanguage.English["decision.no-saddle"];

    /// <summary>What a state rests on, without what follows from it.</summary>
    private static readonly string[] Says = ["no-visit", "no-baseline", "state", "driver", "caution", "measure-again"];

    private sealed class Telling(HorseDecision decision, WatchRules rules, DecisionNumbers say)
    {
        private ReportLanguage Language => say.Language;

        private string BaselineOn => Language.Date(decision.BaselineOn);

        internal IReadOnlyList<Statement> All()
        {
            if (decision.P is not { } p)
                return decision.Measures.Count > 0
                    ?
                    [
                        new("no-baseline", Language["decision.no-baseline", BaselineOn]),
                        new("owner", Language["decision.owner.no-baseline"]),
                    ]
                    : [new("no-visit", Language["decision.no-visit"]), new("owner", Language["decision.owner.no-visit"])];
            var said = new List<Statement> { new("state", State(p)) };
            if (decision.Driver is { Alone: { } alone } driver)
                said.Add(new("driver", Driver(driver, alone)));
            if (Pattern() is { } pattern)
                said.Add(new("pattern", pattern));
            if (decision.Caution is { } caution)
                said.Add(new("caution", Caution(caution)));
            if (decision is { State: not WatchState.Refit, Forecast: { } forecast })
                said.Add(new("forecast", Ahead(forecast)));
            said.Add(
                new("next-check", Language["decision.next-check", Language.Date(decision.NextCheck.Due), Reason(decision.NextCheck.Reason)])
            );
            if (decision.Leaning is { } lean)
                said.Add(new("measure-again", Again(lean)));
            foreach (var earlier in decision.LeftOut)
                said.Add(new("left-out", Language["decision.left-out", Language.Date(earlier.On), Side(earlier.Way), Turned(earlier)]));
            foreach (var m in decision.Measures.Where(m => m.MeasureAgain))
                said.Add(new("measure-again", Language["decision.out-of-line", Words.Sentence(say.Number(m.Measure, m.Station))]));
            if (Hand() is { } hand)
                said.Add(new("threshold", hand));
            said.Add(new("owner", Owner()));
            return said;
        }

        /// <summary>One sentence for somebody who has never heard of a limit.</summary>
        private string Owner()
        {
            if (decision.Caution is { } caution)
                return Language["decision.owner.caution", Side(caution.Side), BaselineOn];
            return decision.State switch
            {
                WatchState.Unknown when decision.Leaning is not null => Language["decision.owner.leaning"],
                WatchState.Refit => Language["decision.owner.refit", BaselineOn],
                WatchState.Watch => Language["decision.owner.watch", BaselineOn],
                WatchState.Steady => Language["decision.owner.steady", BaselineOn],
                _ => Language["decision.owner.unknown"],
            };
        }

        private string State(double p)
        {
            var chance = Language.Chance(p);
            return decision.State switch
            {
                WatchState.Refit => Language["decision.state.refit", BaselineOn, chance],
                WatchState.Watch => Language["decision.state.watch", BaselineOn, chance],
                WatchState.Steady => Language["decision.state.steady", BaselineOn, chance],
                _ when decision.Leaning is { } lean => Language["decision.state.leaning", BaselineOn, Language.Date(lean.On), chance],
                _ => Language["decision.state.unknown", BaselineOn, chance],
            };
        }

        private string Again(VisitLean lean)
        {
            var read = lean.ByReadings is { } r
                ? Language["decision.measure-again.readings", Degrees(r with { Value = r.Value * Math.Sign(lean.Turned.Value) })]
                : "";
            return Language["decision.measure-again", Language.Date(lean.On), Side(lean.Way), lean.Stations, Turned(lean), read];
        }

        private string Turned(VisitLean lean) => Degrees(lean.Turned with { Value = Math.Abs(lean.Turned.Value) });

        private string Degrees(Uncertain e) => say.Degrees(e.Value, e.Sd);

        private string Side(string side) => Language.Find("decision.side." + side) ?? side;

        /// <summary>A limit under the minimal detectable change measures the hand; one example stands for all.</summary>
        private string? Hand()
        {
            var below = decision.Measures.Where(m => m.ThresholdMeasuresTheHand).ToList();
            if (below.Count == 0)
                return null;
            var worst = below.MaxBy(m => m.MinimalDetectable / m.Threshold)!;
            return Language[
                "decision.threshold",
                decision.Measures.Count,
                below.Count,
                say.Number(worst.Measure, worst.Station),
                say.Number(worst.Threshold, worst.Unit),
                say.Number(worst.MinimalDetectable, worst.Unit)
            ];
        }

        private string Driver(MeasureDecision driver, Decision alone)
        {
            var up = alone.Change >= 0;
            return Language[
                    up ? "decision.driver.up" : "decision.driver.down",
                    Words.Sentence(say.Number(driver.Measure, driver.Station)),
                    say.Number(Math.Abs(alone.Change), driver.Unit),
                    say.Number(alone.Sd, driver.Unit),
                    say.Number(alone.Threshold, driver.Unit),
                    Language.Chance(alone.P),
                    decision.Measures.Count,
                    Language.Chance(driver.P ?? 0)
                ] + (driver.TurnsTogether ? Language[up ? "decision.driver.rather-down" : "decision.driver.rather-up"] : "");
        }

        private string? Pattern()
        {
            if (decision.Patterns.Count == 0 || decision.Patterns[0] is not { Share: >= 0.2 } top)
                return null;
            // Backs always move a little: what may as well have gone the other way is not worth a sentence.
            if (Math.Abs(top.Change.Value) < top.Change.Sd)
                return null;
            var (size, sd) = (say.Number(Math.Abs(top.Change.Value), "1"), say.Number(top.Change.Sd, "1"));
            var rule = rules.Patterns.FirstOrDefault(r => string.Equals(r.Name, top.Name, StringComparison.Ordinal));
            if (rule is null)
                return Language["decision.pattern.one", size, sd, Language.Chance(top.Share)];
            var words = top.Change.Value >= 0 ? rule.Grows : rule.Shrinks;
            var subject = top.Station is null ? Words.Sentence(words) : Language["decision.pattern.at", say.At(top.Station), words];
            return Language["decision.pattern", subject, size, sd, top.Measures, Language.Chance(top.Share)];
        }

        private string Caution(VetCaution caution) =>
            Language[
                "decision.caution",
                Side(caution.Side),
                caution.Station is null ? "" : " " + say.At(caution.Station),
                say.Number(caution.ChangePercent, "%"),
                say.Number(caution.SdPercent, "%")
            ];

        private string Ahead(Forecast forecast) =>
            forecast switch
            {
                { From: null } => Language["decision.forecast.none"],
                { Reached: null } => Language["decision.forecast.less-than-even", Day(forecast.From)],
                { To: null } => Language["decision.forecast.reached", Day(forecast.Reached), Day(forecast.From)],
                _ => Language["decision.forecast.between", Day(forecast.Reached), Day(forecast.From), Day(forecast.To)],
            };

        private string Day(DateOnly? day) => Language.Date(day!.Value);

        private string Reason(CheckReason reason) =>
            reason switch
            {
                CheckReason.NoVisit => Language["decision.because.no-visit"],
                CheckReason.Forecast => Language["decision.because.forecast"],
                CheckReason.YoungHorse => Language["decision.because.young-horse"],
                CheckReason.OldHorse => Language["decision.because.old-horse"],
                CheckReason.BackFromLayOff => Language["decision.because.lay-off"],
                CheckReason.ChangingWork => Language["decision.because.work"],
                CheckReason.WeightChange => Language["decision.because.weight"],
                CheckReason.NewSaddle => Language["decision.because.new-saddle"],
                _ => Language["decision.because.calendar"],
            };
    }
}
