using System.Globalization;
using BackHistory.Shape.Measures;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language;

/// <summary>A measure's words by its key: they stand under <c>measure.</c> and its family, with <c>.at</c> for the name that says the
/// depth or place, <c>.definition</c> for what it is, and <c>.within</c> for its name inside a sentence.</summary>
internal static class MeasureNames
{
    internal static string NameOf(string key, LengthUnit lengths, ReportLanguage language)
    {
        var (family, at) = (MeasureDefinition.FamilyOf(key), DepthOf(key, lengths, language));
        var (plain, with) = (language.Find($"measure.{family}"), language.Find($"measure.{family}.at"));
        if (at.Length > 0 || plain is null)
            return with is not null ? Filled(with, at) : plain ?? (at.Length > 0 ? $"{family}@{at}" : family);
        return plain;
    }

    internal static string DefinitionOf(string key, LengthUnit lengths, ReportLanguage language) =>
        language.Find($"measure.{MeasureDefinition.FamilyOf(key)}.definition") is { } text
            ? Filled(text, DepthOf(key, lengths, language))
            : "";

    /// <summary>What is no number and no stretch (the place of a muscle score) stays as it is; empty where the key names
    /// nothing.</summary>
    private static string DepthOf(string key, LengthUnit lengths, ReportLanguage language)
    {
        if (key.Split('@', 2) is not [_, var at])
            return "";
        if (!double.TryParse(at, NumberStyles.None, CultureInfo.InvariantCulture, out var mm))
            return StretchOf(at, language) ?? at;
        return lengths == LengthUnit.Inches ? language.Number(mm / Inch.Millimetres, 1) + "″" : at + " mm";
    }

    /// <summary>The two ends of a stretch of the topline (<c>behind-shoulder-mid-back</c>) in words; null where it is none.</summary>
    private static string? StretchOf(string at, ReportLanguage language)
    {
        for (var dash = at.IndexOf('-', StringComparison.Ordinal); dash >= 0; dash = at.IndexOf('-', dash + 1))
        {
            if (language.Find("station." + at[..dash]) is { } from && language.Find("station." + at[(dash + 1)..]) is { } to)
                return language["measures.stretch", from, to];
        }

        return null;
    }

    private static string Filled(string text, string at) => string.Format(CultureInfo.InvariantCulture, text, at);
}
