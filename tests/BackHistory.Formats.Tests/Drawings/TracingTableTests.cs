using System.Text;
using BackHistory.Formats.Drawings;
using BackHistory.Shape;

namespace BackHistory.Formats.Tests.Drawings;

/// <summary>Tracings as tables, as spreadsheets of different countries write them.</summary>
public sealed class TracingTableTests
{
    [Theory]
    [InlineData("x_mm,y_mm\n-10.5,-5.25\n0,0\n")]
    [InlineData("x_mm;y_mm\r\n-10,5;-5,25\r\n0;0\r\n")]
    [InlineData("x_mm;y_mm\n-10.5;-5.25\n0;0\n")]
    [InlineData("x_mm\ty_mm\n-10,5\t-5,25\n0\t0\n")]
    public void Commas_semicolons_and_tabs_separate_and_a_decimal_comma_is_as_good_as_a_point_where_it_does_not(string table)
    {
        var (tracing, bad) = Read(table);

        Assert.Null(bad);
        Assert.Equal([new Point(-10.5, -5.25), new Point(0, 0)], tracing!.Points);
    }

    [Theory]
    [InlineData("x_mm,y_mm\n1,5,2,5\n")]
    [InlineData("x_mm;y_mm\n1.234,5;2\n")]
    [InlineData("x_mm;y_mm\n1\n")]
    public void What_is_no_pair_of_numbers_is_refused_with_its_line(string table) => Assert.Contains("line 2", Read(table).Bad!.Message);

    [Fact]
    public void A_third_column_names_the_points_that_are_marks()
    {
        var (tracing, bad) = Read("x_mm;y_mm;mark\n0,5;0;behind-shoulder\n100;-4;\n430;-15; last-rib\n");

        Assert.Null(bad);
        Assert.Equal(3, tracing!.Points.Length);
        Assert.Equal(
            [("behind-shoulder", new Point(0.5, 0)), ("last-rib", new Point(430, -15))],
            tracing.Marks.OrderBy(m => m.Key).Select(m => (m.Key, m.Value))
        );
    }

    [Theory]
    [InlineData("x_mm,y_mm,mark\n0,0,a\n1,1,a\n")]
    [InlineData("x_mm,y_mm,mark\n0,0,a\n1,1\n")]
    public void A_mark_that_stands_twice_and_a_line_without_its_column_are_refused_with_their_line(string table) =>
        Assert.Contains("line 3", Read(table).Bad!.Message);

    private static (Tracing? Tracing, Unread? Bad) Read(string table) =>
        TracingTable.Read(Encoding.UTF8.GetBytes(table), TracingKind.CrossSection, "shoulder", 1, 1000);
}
