using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts;

/// <summary>A trend chart in words and numbers.</summary>
static class TrendAltText
{
    public static string Describe(TrendChartInput input) =>
        string.Join(
            ' ',
            new[] { input.Finding, $"{input.Subject}." }
                .Concat(input.Series.Select(s => Series(s, input)))
                .Concat(SaddleWork(input))
                .Where(sentence => sentence.Length > 0)
        );

    static string Series(TrendSeries series, TrendChartInput input)
    {
        var language = input.Language;
        var side = SideNames.In(series.Side, language);
        var start = side.Length == 0 ? "" : char.ToUpperInvariant(side[0]) + side[1..] + ": ";
        if (series.Visits.Count == 0)
            return start + language["trend-alt-text.no-visit"];
        var last = series.Visits.MaxBy(v => v.On)!;
        var first = series.Visits.MinBy(v => v.On)!;
        string Value(double value) => Words.WithUnit(language.Number(value, input.Decimals), input.Unit);
        var count =
            series.Visits.Count == 1
                ? language["trend-alt-text.one-visit"]
                : $"{series.Visits.Count} {language["trend-alt-text.visits-since"]} {language.Date(first.On)}";
        var sentence =
            $"{start}{count}, {language["trend-alt-text.last"]} {Value(last.Value)} ± "
            + $"{language.Number(last.Sd, input.Decimals)} "
            + $"{language["trend-alt-text.on"]} {language.Date(last.On)}";
        return series.Baseline is { } b
            ? $"{sentence}; {language["trend-alt-text.baseline"]} {Value(b.Level)} {language["trend-alt-text.on"]} "
                + $"{language.Date(b.Since)}, "
                + $"{language["trend-alt-text.threshold"]} {Value(b.Allowance)}."
            : sentence + ".";
    }

    static IEnumerable<string> SaddleWork(TrendChartInput input) =>
        input.SaddleWork.OrderBy(m => m.On).Select(m => $"{m.Label} {input.Language.Date(m.On)}.");
}
