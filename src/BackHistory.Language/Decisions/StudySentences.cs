using System.Globalization;
using BackHistory.History.Practices;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language.Decisions;

/// <summary>What a study of repeats says of one measure.</summary>
public static class StudySentences
{
    /// <summary>The study's figures in words, however few: what they are worth is said beside them.</summary>
    public static IReadOnlyList<string> InWords(this StudyFinding finding, ReportLanguage language = default) =>
        [.. Sentences(finding, language)];

    /// <summary>What repeats say about a threshold.</summary>
    /// <param name="minimalDetectable">In the measure's unit, as the threshold.</param>
    public static string ThresholdAgainst(
        string measure,
        string unit,
        double threshold,
        double minimalDetectable,
        ReportLanguage language = default
    )
    {
        var say = new DecisionNumbers(language, LengthUnit.Millimetres);
        return language[
            threshold < minimalDetectable ? "study.threshold.below" : "study.threshold.above",
            say.Number(threshold, unit),
            say.Measure(measure),
            say.Number(minimalDetectable, unit)
        ];
    }

    private static IEnumerable<string> Sentences(StudyFinding finding, ReportLanguage language)
    {
        if (finding.Threshold is { } limit)
            yield return ThresholdAgainst(finding.Measure, finding.Unit, limit, finding.MinimalDetectable, language);
        if (finding.Repeats.WithinSd is { } within)
        {
            var enough =
                finding.Repeats.Df >= NoiseStudy.FewestDf
                    ? language["study.repeats.enough"]
                    : language["study.repeats.few", NoiseStudy.FewestDf.ToString("0", CultureInfo.InvariantCulture)];
            yield return language["study.repeats", Said(within, language), finding.Repeats.Df, enough];
        }
        if (finding.InUse.VisitFrom == NoiseSource.RuleOfThumb)
            yield return language["study.between-days", Said(finding.InUse.VisitSd, language)];
        if (finding.Agreement is { } a && Math.Abs(a.Bias) > 1.96 * a.Sd / Math.Sqrt(a.Points.Count))
            yield return language[a.Bias > 0 ? "study.bias.more" : "study.bias.less", Said(Math.Abs(a.Bias), language)];
    }

    private static string Said(double value, ReportLanguage language) =>
        value.ToString("0.0#", CultureInfo.InvariantCulture).Replace(".", language["number.decimal"], StringComparison.Ordinal);
}
