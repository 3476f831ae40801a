using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Application.Imports;

/// <summary>One mark of a gauge as a line of a table says it.</summary>
internal sealed record GaugeMarkLine(SheetLine Line, string? Name, string? Key, string? Measure, string? Mark, double? Place)
{
    /// <summary>In which a width may be given.</summary>
    public static IReadOnlyList<string> Lengths { get; } = ["mm", "cm", "in"];

    private const string Degrees = "deg";

    private double? Number { get; init; }

    /// <summary>Of its cell, or of its column; null where neither names one.</summary>
    private string? Unit { get; init; }

    public bool NamesNoUnit => Number is not null && Unit is null;

    /// <summary>As it is kept: degrees of an angle, millimetres of a width.</summary>
    public static string UnitOf(string measure) => measure == "slope" ? Degrees : MeasureRegistry.UnitOf(measure);

    public static bool IsAngle(string measure) => UnitOf(measure) == Degrees;

    public static GaugeMarkLine Read(SheetLine line)
    {
        var name = line.Needed("gauge");
        var key = line.Text("key");
        if (key is not null && GaugeRefusals.OfKey(key) is { } noKey)
            line.Refuse("key", noKey);
        var measure = line.Text("reads") is { } reads ? line.Word("reads", reads, MeasureViews.Gauge) : null;
        if (measure is not null)
            line.ReadsAs("reads", measure == "slope" ? "the slope of one side" : Formatter.Metric.Measure(measure));
        var ofColumn = line.Text("unit") is { } unit ? line.Word("unit", unit, [Degrees, .. Lengths]) : null;
        var (number, ofCell) = line.WithUnit("value");
        if (number is null && line.Raw("value") is null)
            line.Refuse("value", SheetLine.EmptyCell);
        var mark = line.Engraved("mark");
        if (mark is null && line.Raw("mark") is null)
            line.Refuse("mark", SheetLine.EmptyCell);
        return new GaugeMarkLine(line, name, key, measure, mark, line.Value("place")) { Number = number, Unit = ofCell ?? ofColumn };
    }

    /// <summary>Degrees or millimetres; null where it cannot be told, which its line says then.</summary>
    /// <param name="measure">Of the gauge.</param>
    /// <param name="asked">The unit that was answered for widths that name none.</param>
    public double? Value(string? measure, string? asked)
    {
        if (Number is not { } number || measure is null)
            return null;
        if (IsAngle(measure))
        {
            if (Unit is null or Degrees)
                return Said(number, "°");
            Line.Refuse("value", new Refused("wrong-unit", "An angle is given in degrees."));
            return null;
        }

        switch (Unit ?? asked)
        {
            case "mm":
                return Said(number, " mm");
            case "cm":
                return Said(number * 10, " mm");
            case "in":
                return Said(number * Inch.Millimetres, " mm");
            case Degrees:
                Line.Refuse("value", new Refused("wrong-unit", "A width is given in mm, cm or in."));
                return null;
            default:
                return null;
        }
    }

    private double Said(double value, string unit)
    {
        Line.ReadsAs("value", string.Create(CultureInfo.InvariantCulture, $"{value:0.###}{unit}"));
        return value;
    }
}
