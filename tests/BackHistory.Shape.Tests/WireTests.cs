using System.Text;
using System.Text.Json;
using BackHistory.Shape.Wire;

namespace BackHistory.Shape.Tests;

/// <summary>The wire form of the `measure` verb: what is read, what is refused and under which name.</summary>
public sealed class WireTests
{
    private static readonly string Points = JsonSerializer.Serialize(Shapes.Circle().Points.Select(p => new[] { p.X, p.Y }));

    private static string Line(
        string change = "",
        string points = "",
        string head = """ "id":"c","kind":"cross-section","unit":"mm","yAxis":"up" """
    ) => $$"""{{{head}},"points":{{(points.Length > 0 ? points : Points)}}{{change}}}""";

    private static JsonElement Answer(string line, int number = 1) => JsonDocument.Parse(MeasureLine.Answer(line, number).Json).RootElement;

    private static string? Code(string line) =>
        Answer(line).TryGetProperty("refused", out var refused) ? refused.GetProperty("code").GetString() : null;

    [Fact]
    public void A_tracing_without_the_fields_that_have_a_default_is_measured() => Assert.Null(Code(Line()));

    [Theory]
    [InlineData(""","station":null,"midline":null,"level":null,"marks":null""")]
    [InlineData(""","noise":0""")]
    [InlineData(""","midline":[0,0],"level":[[-100,0],[100,0]]""")]
    public void A_null_stands_for_a_field_left_out(string change) => Assert.Null(Code(Line(change)));

    [Theory]
    [InlineData(""","colour":"red" """)]
    [InlineData(""","Noise":1""")]
    [InlineData(""","noise":"1" """)]
    [InlineData(""","noise":-1""")]
    [InlineData(""","unit":"cm" """)]
    [InlineData(""","midline":[0]""")]
    [InlineData(""","midline":[0,0,0]""")]
    [InlineData(""","level":[[0,0],[19.9,0]]""")]
    [InlineData(""","level":[0,0]""")]
    [InlineData(""","marks":[[0,0]]""")]
    [InlineData(""","marks":{"a":[0,0],"a":[1,1]}""")]
    [InlineData(""","tail":"left" """)]
    [InlineData(""","station":7""")]
    public void A_field_that_cannot_be_meant_is_unreadable(string change) => Assert.Equal("unreadable", Code(Line(change)));

    [Theory]
    [InlineData("""[["-1",0],[1,0]]""")]
    [InlineData("""[[-1,0,5],[1,0,5]]""")]
    [InlineData("""[[-1],[1]]""")]
    [InlineData("""[-1,0]""")]
    [InlineData("""{"x":1}""")]
    [InlineData("null")]
    [InlineData("[[NaN,0]]")]
    [InlineData("[[true,0]]")]
    public void Points_that_are_no_pairs_of_numbers_are_unreadable(string points) => Assert.Equal("unreadable", Code(Line(points: points)));

    [Theory]
    [InlineData(""" "id":"c","unit":"mm","yAxis":"up" """)]
    [InlineData(""" "id":"c","kind":"cross-section","yAxis":"up" """)]
    [InlineData(""" "id":"c","kind":"cross-section","unit":"mm" """)]
    [InlineData(""" "id":"c","kind":"topline","unit":"mm","yAxis":"up" """)]
    [InlineData(""" "id":"c","kind":"blob","unit":"mm","yAxis":"up" """)]
    [InlineData(""" "id":"c","kind":"cross-section","unit":"mm","yAxis":"left" """)]
    [InlineData(""" "id":"c","kind":"cross-section","unit":7,"yAxis":"up" """)]
    public void A_missing_or_meaningless_field_is_unreadable_and_the_id_is_given_back(string head)
    {
        var answer = Answer(Line(head: head));
        Assert.Equal("unreadable", answer.GetProperty("refused").GetProperty("code").GetString());
        Assert.Equal("c", answer.GetProperty("id").GetString());
    }

    [Theory]
    [InlineData("[[null,0],[1,0]]")]
    [InlineData("[[1,null]]")]
    [InlineData("[[1e999,0]]")]
    [InlineData("[[0,-1e400]]")]
    public void A_null_or_a_number_beyond_a_double_is_not_finite(string points) => Assert.Equal("not-finite", Code(Line(points: points)));

    [Fact]
    public void A_number_that_only_its_unit_makes_too_large_is_not_finite() =>
        Assert.Equal(
            "not-finite",
            Code(Line(points: "[[1e308,0]]", head: """ "id":"c","kind":"cross-section","unit":"in","yAxis":"up" """))
        );

    [Theory]
    [InlineData(""","midline":[null,0]""")]
    [InlineData(""","level":[[0,0],[null,0]]""")]
    [InlineData(""","marks":{"scar":[1e999,0]}""")]
    [InlineData(""","noise":null""")]
    [InlineData(""","noise":1e999""")]
    public void Marks_lines_and_noise_must_be_finite_too(string change) => Assert.Equal("not-finite", Code(Line(change)));

    [Theory]
    [InlineData("")]
    [InlineData("nonsense")]
    [InlineData("[1,2]")]
    [InlineData("7")]
    [InlineData("""{"id":"c" """)]
    [InlineData("""{"id":"c","kind":"\ud800"}""")]
    [InlineData("""{"\udfff":1}""")]
    [InlineData("""{"id":"\ud800"}""")]
    [InlineData("[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]")]
    public void A_line_that_is_no_tracing_is_unreadable_with_its_number(string line)
    {
        var answer = Answer(line, 7);
        Assert.Equal("unreadable", answer.GetProperty("refused").GetProperty("code").GetString());
        if (answer.GetProperty("id").ValueKind == JsonValueKind.Null)
            Assert.Equal(7, answer.GetProperty("line").GetInt32());
    }

    [Fact]
    public void Half_a_surrogate_pair_in_the_line_itself_is_refused() => Assert.NotNull(Code("{\"id\":\"\ud800\",\"kind\":\"\udfff\"}"));

    [Fact]
    public void Refusals_come_in_their_order()
    {
        const string head = """ "id":"c","kind":"cross-section","unit":"ell","yAxis":"up" """;
        Assert.Equal("unknown-unit", Code(Line(points: "[[null,0]]", head: head)));
        Assert.Equal("unreadable", Code(Line(points: "[[null,\"a\"]]", head: head)));
        Assert.Equal("unreadable", Code(Line(""","level":[[0,0],[1,0]]""", "[[null,0]]")));
        Assert.Equal("not-finite", Code(Line(points: "[[null,0],[1,0]]")));
        Assert.Equal("implausible-size", Code(Line(""","midline":[0,500]""", "[[0,0],[1,0]]")));
        Assert.Equal("off-midline", Code(Line(""","midline":[0,500]""", "[[0,0],[200,0]]")));
        Assert.Equal("too-few-points", Code(Line(points: "[[0,0],[200,0]]")));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_is_written_is_read_back_number_for_number(bool topline)
    {
        var tracing = Shapes.Circle() with
        {
            Kind = topline ? TracingKind.Topline : TracingKind.CrossSection,
            TailLeft = topline,
            Station = "behind-shoulder",
            Unit = "in",
            YAxisDown = true,
            Midline = new Point(0.1, 1.0 / 3),
            Level = new LevelLine(new(-1, 0.7), new(100, 3)),
            Marks = new Dictionary<string, Point>(StringComparer.Ordinal) { ["scar"] = new(1e-7, 2), ["last-rib"] = new(Math.PI, Math.E) },
            Noise = 0.25,
        };
        var read = TracingJson.Read(TracingJson.Write(tracing)).Tracing!;
        Assert.Equal(tracing.Points.AsEnumerable(), read.Points);
        Assert.Equal(tracing.Marks.OrderBy(m => m.Key, StringComparer.Ordinal), read.Marks.OrderBy(m => m.Key, StringComparer.Ordinal));
        Assert.Equal(tracing with { Points = [], Marks = read.Marks }, read with { Points = [] });
        var inDocument = JsonSerializer.Deserialize<Tracing>(JsonSerializer.Serialize(tracing))!;
        Assert.Equal(TracingJson.Write(tracing), TracingJson.Write(inDocument));
    }

    [Fact]
    public void A_station_is_echoed() =>
        Assert.Equal("a free text", Answer(Line(""","station":"a free text" """)).GetProperty("station").GetString());

    [Fact]
    public void A_byte_order_mark_before_the_first_line_is_no_fault() => Assert.Null(Code('\uFEFF' + Line()));

    [Fact]
    public void Bytes_that_are_no_text_are_unreadable() =>
        Assert.Equal("unreadable", TracingJson.Read(Encoding.Latin1.GetBytes("{\"kind\":\"\xff\xfe\"}")).Refused?.Code);
}
