using BackHistory.History.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language.Tests;

/// <summary>Against the international inch, 25.4 mm exactly, and the hand of four inches (common practice, no source).</summary>
public sealed class FormatterTests
{
    private static readonly Formatter Inches = new(LengthUnit.Inches);

    [Theory]
    [InlineData(25.4, "mm", "1.00″")]
    [InlineData(-12.7, "mm", "−0.50″")]
    [InlineData(6.4516, "cm2", "1.00\u00a0in²")]
    [InlineData(47.26, "deg", "47.3°")]
    [InlineData(524.4, "kg", "524\u00a0kg")]
    public void Lengths_and_areas_are_said_in_inches_and_nothing_else_is(double value, string unit, string says) =>
        Assert.Equal(says, Inches.Number(value, unit));

    [Fact]
    public void A_slope_of_the_topline_names_its_two_ends_in_words()
    {
        Assert.Equal("Topline slope, behind the shoulder to mid-back", Formatter.Metric.Measure("topline-slope@behind-shoulder-mid-back"));
        Assert.Equal("Topline slope, shoulder to behind the shoulder", Formatter.Metric.Measure("topline-slope@shoulder-behind-shoulder"));
        Assert.Equal("Topline slope, withers to last rib", Formatter.Metric.Measure("topline-slope@withers-last-rib"));
        Assert.Equal(
            "Neigung der Oberlinie, Widerrist bis Rückenmitte",
            new Formatter(LengthUnit.Millimetres, ReportLanguage.For("de")).Measure("topline-slope@withers-mid-back")
        );
    }

    [Fact]
    public void A_standard_deviation_is_never_said_to_be_nothing()
    {
        Assert.Equal("438.9 ± 0.3\u00a0mm", Formatter.Metric.Level(438.9, 0.3, "mm"));
        Assert.Equal("438.94 ± 0.03\u00a0mm", Formatter.Metric.Level(438.94, 0.03, "mm"));
        Assert.Equal("439 ± 1\u00a0mm", Formatter.Metric.Level(438.9, 0.6, "mm"));
        Assert.Equal("+5.7 ± 0.2\u00a0mm", Formatter.Metric.Change(5.71, 0.21, "mm"));
        Assert.Equal("−0.50 ± 0.10″", Inches.Change(-12.7, 2.54, "mm"));
        Assert.Equal("5.7 ±\u00a00.2", Formatter.Metric.Bare(5.71, 0.21, "mm"));
    }

    [Fact]
    public void The_depth_of_a_measure_is_said_in_the_same_unit_as_the_measure()
    {
        Assert.Equal("Width 3.9″ down", Inches.Measure("width@100"));
        Assert.Equal("Width 100 mm down", Formatter.Metric.Measure("width@100"));
        Assert.Equal("Breite 3,9″ tief", new Formatter(LengthUnit.Inches, ReportLanguage.For("de")).Measure("width@100"));
        Assert.Equal("Muscle score, back", Inches.Measure("muscle@back"));
        Assert.Equal(
            "Area of the left half to 150 mm, behind the shoulder",
            Formatter.Metric.Subject("half-area-left@150", "behind-shoulder")
        );
    }

    [Theory]
    [InlineData(1574.8, "15.2 hands")]
    [InlineData(1524, "15.0 hands")]
    [InlineData(1612.9, "16.0 hands")]
    [InlineData(1625.6, "16.0 hands")]
    [InlineData(1600, "15.3 hands")]
    public void A_hand_has_four_inches(double millimetres, string says) =>
        Assert.Equal(says, Formatter.Metric.Height(millimetres, HeightUnit.Hands));

    [Fact]
    public void A_height_in_centimetres_is_whole() => Assert.Equal("158 cm", Formatter.Metric.Height(1581, HeightUnit.Centimetres));
}
