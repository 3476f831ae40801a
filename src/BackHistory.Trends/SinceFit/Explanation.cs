using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Joint;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.Trends.SinceFit;

/// <summary>The decision in plain English, each sentence with the key of what it says; every number in it stands in the decision
/// too.</summary>
static class Explanation
{
    internal static IReadOnlyList<Statement> Of(HorseDecision decision, WatchRules rules, LengthUnit lengths = LengthUnit.Millimetres)
    {
        if (decision.P is not { } p)
            return
            [
                new("no-visit", "There is no visit on record: measure this horse before anything is said of its saddle."),
                new("owner", "Nobody has measured this horse's back yet: ask for a visit."),
            ];
        var said = new List<Statement> { new("state", State(decision, p)) };
        if (decision.Driver is { Alone: { } alone } driver)
            said.Add(new("driver", Driver(decision, driver, alone, lengths)));
        if (Pattern(decision, rules) is { } pattern)
            said.Add(new("pattern", pattern));
        if (decision.Caution is { } caution)
            said.Add(new("caution", Caution(caution)));
        if (decision is { State: not WatchState.Refit, Forecast: { } forecast })
            said.Add(new("forecast", Ahead(forecast)));
        said.Add(new("next-check", $"Next check due {Wording.Date(decision.NextCheck.Due)}: {Reason(decision.NextCheck.Reason)}."));
        if (decision.Leaning is { } lean)
            said.Add(new("measure-again", Again(lean)));
        foreach (var earlier in decision.LeftOut)
            said.Add(new("left-out", LeftOut(earlier)));
        foreach (var m in decision.Measures.Where(m => m.MeasureAgain))
            said.Add(
                new(
                    "measure-again",
                    $"{Wording.Sentence(Wording.Of(m.Measure, m.Station, lengths))} is out of line with all earlier visits: trace it a "
                        + $"second time."
                )
            );
        if (Hand(decision, lengths) is { } hand)
            said.Add(new("threshold", hand));
        said.Add(new("owner", Owner(decision)));
        return said;
    }

    internal static IReadOnlyList<Statement> WithoutBaseline(DateOnly set) =>
        [
            new(
                "no-baseline",
                $"The saddle was set on {Wording.Date(set)}, before the first visit on record: nothing says which shape it was set to. "
                    + "Record the next setting, or a visit at which a fitter finds that the saddle fits."
            ),
            new("owner", "Nobody measured the back when the saddle was set: have the saddle checked at the next visit."),
        ];

    /// <summary>One sentence for somebody who has never heard of a limit.</summary>
    static string Owner(HorseDecision decision)
    {
        var since = $"since the saddle was set on {Wording.Date(decision.BaselineOn)}";
        if (decision.Caution is { } caution)
            return $"The back has probably lost shape on the {caution.Side} {since}: ask your veterinary surgeon to look before the "
                + $"saddle is changed.";
        return decision.State switch
        {
            WatchState.Unknown when decision.Leaning is not null =>
                "The last tracings have to be taken again before anything can be said of the saddle.",
            WatchState.Refit => $"The back has changed shape {since}: have the saddle checked.",
            WatchState.Watch => $"The back may be changing {since}: the saddle should still fit, and the next visit will tell more.",
            WatchState.Steady => $"The back has kept its shape {since}.",
            _ => "It is too long since the back was measured to say whether the saddle still fits: ask for a visit.",
        };
    }

    static string State(HorseDecision decision, double p)
    {
        var since = $"since the saddle was set on {Wording.Date(decision.BaselineOn)}";
        var chance = $"all measures taken together give {Wording.Chance(p)} that the back has changed by more than its limit";
        return decision.State switch
        {
            WatchState.Refit => $"The saddle was set to another shape: {since}, {chance}.",
            WatchState.Watch => $"The back is moving: {since}, {chance}.",
            WatchState.Steady => $"The back is as the saddle was set to it: {since}, {chance}.",
            _ when decision.Leaning is { } lean =>
                $"The decision waits for a tracing: {since} and without what the tracings of {Wording.Date(lean.On)} say of left and "
                    + $"right, "
                    + $"{chance}.",
            _ => $"The data cannot tell {since}: measure. As it stands, {chance}.",
        };
    }

    static string Again(VisitLean lean)
    {
        var read = lean.ByReadings is { } r
            ? $", against the readings by hand by {Degrees(r with { Value = r.Value * Math.Sign(lean.Turned.Value) })}"
            : "";
        return $"The tracings of {Wording.Date(lean.On)} all lean the same way to the {lean.Way}: at {lean.Stations} stations the sides "
            + $"have "
            + $"turned against each other by {Degrees(lean.Turned with { Value = Math.Abs(lean.Turned.Value) })}{read}. "
            + "Level the sheet and trace again: a second visit that says the same settles it.";
    }

    static string LeftOut(VisitLean lean) =>
        $"The tracings of {Wording.Date(lean.On)} all lean the same way to the {lean.Way}, "
        + $"by {Degrees(lean.Turned with { Value = Math.Abs(lean.Turned.Value) })}, "
        + "and no other visit bears them out: what they say of left and right is left out.";

    static string Degrees(Estimate e) => $"{Wording.Number(e.Value, "deg")} (± {Wording.Number(e.Sd, "deg")})";

    /// <summary>A limit under the minimal detectable change measures the hand; one example stands for all.</summary>
    static string? Hand(HorseDecision decision, LengthUnit lengths)
    {
        var below = decision.Measures.Where(m => m.ThresholdMeasuresTheHand).ToList();
        if (below.Count == 0)
            return null;
        var worst = below.MaxBy(m => m.MinimalDetectable / m.Threshold)!;
        return $"Of {decision.Measures.Count} limits, {below.Count} lie below what two visits of one tracing can tell apart (most of all "
            + $"that on "
            + $"{Wording.Of(worst.Measure, worst.Station, lengths)}: {Wording.Number(worst.Threshold, worst.Unit, lengths)} against "
            + $"{Wording.Number(worst.MinimalDetectable, worst.Unit, lengths)}): "
            + "by itself such a limit measures the hand.";
    }

    static string Driver(HorseDecision decision, MeasureDecision driver, Decision alone, LengthUnit lengths)
    {
        var moved = alone.Change >= 0 ? "up" : "down";
        return $"{Wording.Sentence(Wording.Of(driver.Measure, driver.Station, lengths))} is {moved} by "
            + $"{Wording.Number(Math.Abs(alone.Change), driver.Unit, lengths)} "
            + $"(± {Wording.Number(alone.Sd, driver.Unit, lengths)}) against a limit of "
            + $"{Wording.Number(alone.Threshold, driver.Unit, lengths)}; by itself it gives {Wording.Chance(alone.P)}, "
            + $"with all {decision.Measures.Count} measures {Wording.Chance(driver.P ?? 0)}."
            + (
                driver.TurnsTogether
                    ? $" Taken with the others it is rather {(moved == "up" ? "down" : "up")}: what leans alike all along the back is "
                        + $"sooner the hand than the horse."
                    : ""
            );
    }

    static string? Pattern(HorseDecision decision, WatchRules rules)
    {
        if (decision.Patterns.Count == 0 || decision.Patterns[0] is not { Share: >= 0.2 } top)
            return null;
        // Backs always move a little: what may as well have gone the other way is not worth a sentence.
        if (Math.Abs(top.Change.Value) < top.Change.Sd)
            return null;
        var size = $"by {Wording.Number(Math.Abs(top.Change.Value), "1")} limits (± {Wording.Number(top.Change.Sd, "1")})";
        var rule = rules.Patterns.FirstOrDefault(r => string.Equals(r.Name, top.Name, StringComparison.Ordinal));
        if (rule is null)
            return $"One measure moves and no other follows it, {size}; {Wording.Chance(top.Share)}.";
        var words = top.Change.Value >= 0 ? rule.Grows : rule.Shrinks;
        var subject = top.Station is null ? Wording.Sentence(words) : $"The back {Wording.Station(top.Station)} {words}";
        return $"{subject} {size}: {top.Measures} measures judged together, {Wording.Chance(top.Share)}.";
    }

    static string Caution(VetCaution caution)
    {
        var place = caution.Station is null ? "" : " " + Wording.Station(caution.Station);
        return $"The {caution.Side} side{place} has probably lost shape and the other has not "
            + $"({Wording.Number(caution.ChangePercent, "%")} ± {Wording.Number(caution.SdPercent, "%")}). "
            + "Loss on one side can be disease: ask a veterinary surgeon before any refit.";
    }

    static string Ahead(Forecast forecast) =>
        forecast switch
        {
            { From: null } => "Within a year no more than a tenth chance that a limit is passed.",
            { Reached: null } => $"A tenth chance of a limit passed by {Wording.Date(forecast.From.Value)}, less than even within a year.",
            { To: null } => $"A limit is more likely passed than not by {Wording.Date(forecast.Reached.Value)} (a tenth chance by "
                + $"{Wording.Date(forecast.From.Value)}).",
            _ => $"A limit is more likely passed than not by {Wording.Date(forecast.Reached.Value)} (between "
                + $"{Wording.Date(forecast.From.Value)} and {Wording.Date(forecast.To.Value)}).",
        };

    static string Reason(CheckReason reason) =>
        reason switch
        {
            CheckReason.NoVisit => "there is no visit on record",
            CheckReason.Forecast => "by then there is a tenth chance that a limit has been passed unseen",
            CheckReason.YoungHorse => "a young horse is checked more often",
            CheckReason.OldHorse => "an old horse is checked more often",
            CheckReason.BackFromLayOff => "the horse is back from a lay-off",
            CheckReason.ChangingWork => "its work is changing",
            CheckReason.WeightChange => "its weight has changed",
            CheckReason.NewSaddle => "a new or re-flocked saddle settles",
            _ => "that long has passed since the last visit",
        };
}
