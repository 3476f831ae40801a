using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;
using BackHistory.Formats.Drawings;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Registration;
using BackHistory.Shape.Tests;
using CsCheck;

namespace BackHistory.Formats.Tests.Drawings;

public sealed class ImportTests
{
    private static readonly JsonElement Reference = JsonDocument
        .Parse(File.ReadAllBytes(TestData.PathTo("import", "reference.json")))
        .RootElement;

    private static ImportedContours Read(ContourFormat format, byte[] file, string unit = "mm")
    {
        var read = ContourImport.Read(format, file, unit);
        Assert.Null(read.Refused);
        return read.Contours!;
    }

    private static ImportedContours Svg(string body, string size = "width=\"400mm\" height=\"300mm\" viewBox=\"0 0 400 300\"") =>
        Read(ContourFormat.Svg, Encoding.UTF8.GetBytes($"<svg xmlns=\"http://www.w3.org/2000/svg\" {size}>{body}</svg>"));

    private static string? Code(ContourFormat format, string file, ImportLimits? limits = null) =>
        ContourImport.Read(format, Encoding.UTF8.GetBytes(file), limits: limits).Refused?.Code;

    private static double Off(IReadOnlyList<Point> line, Point p)
    {
        double[] x = [.. line.Select(q => q.X)],
            y = [.. line.Select(q => q.Y)];
        return (Polyline.Nearest(x, y, p) - p).Length;
    }

    private static Point At(JsonElement pair, double scaleY = 1) => new(pair[0].GetDouble(), scaleY * pair[1].GetDouble());

    [Theory]
    [Trait("source", "svgelements 1.7.2 (Debian 12): points on paths")]
    [InlineData("all")]
    [InlineData("flags")]
    [InlineData("relative")]
    public void Every_command_of_a_path_is_drawn_where_the_reference_draws_it(string name)
    {
        var expected = Reference.GetProperty("svg").GetProperty(name);
        var contours = Svg($"<path d=\"{expected.GetProperty("d").GetString()}\"/>");
        var subpaths = expected.GetProperty("subpaths").EnumerateArray().Where(s => s.GetProperty("length").GetDouble() > 0).ToArray();
        Assert.Equal(subpaths.Length, contours.Lines.Length);
        foreach (var subpath in subpaths)
        {
            var length = subpath.GetProperty("length").GetDouble();
            var line = contours.Lines.MinBy(l => Math.Abs(l.Length - length))!;
            Assert.Equal(length, line.Length, 0.002 * length);
            foreach (var pair in subpath.GetProperty("points").EnumerateArray())
                Assert.True(Off(line.Points, At(pair, -1)) < 0.025, $"{pair} of {name}");
        }
    }

    [Fact]
    [Trait("source", "svgelements 1.7.2 (Debian 12): matrix of a list of transforms")]
    public void Transforms_apply_from_right_to_left_and_from_the_inside_out()
    {
        var transform = Reference.GetProperty("transform");
        var to = transform.GetProperty("to")[0];
        var line = Svg($"<g transform=\"{transform.GetProperty("text").GetString()}\"><line x1=\"3\" y1=\"4\" x2=\"9\" y2=\"4\"/></g>")
            .Lines.Single();
        Assert.Equal(to[0].GetDouble(), line.Points[0].X, 1e-9);
        Assert.Equal(-to[1].GetDouble(), line.Points[0].Y, 1e-9);
        var nested = Svg(
            "<g transform=\"translate(10,0)\"><g transform=\"scale(2)\"><polyline points=\"1,2 3,4\"/></g></g><polyline points=\"0 0 1 "
                + "1\"/>"
        ).Lines;
        Assert.Equal([new Point(12, -4), new(16, -8)], nested[0].Points);
        Assert.Equal([new Point(0, 0), new(1, -1)], nested[1].Points);
    }

    [Theory]
    [InlineData("width=\"400mm\" viewBox=\"0 0 400 300\"", 1, true)]
    [InlineData("width=\"40cm\" viewBox=\"0 0 400 300\"", 1, true)]
    [InlineData("width=\"10in\" height=\"20in\" viewBox=\"0 0 254 254\"", 1, true)]
    [InlineData("width=\"800\" height=\"600\"", 25.4 / 96, true)]
    [InlineData("width=\"72pt\" viewBox=\"0 0 72 72\"", 25.4 / 72, true)]
    [InlineData("width=\"100%\" viewBox=\"0 0 400 300\"", 1, false)]
    [InlineData("", 1, false)]
    public void The_sheet_says_how_long_a_user_unit_is(string size, double millimetres, bool stated)
    {
        var contours = Svg("<line x1=\"0\" y1=\"0\" x2=\"10\" y2=\"0\"/>", size);
        Assert.Equal(10 * millimetres, contours.Lines[0].Length, 1e-9);
        Assert.Equal(stated, contours.UnitStated);
    }

    [Fact]
    public void What_is_not_drawn_is_not_read_and_the_longest_line_comes_first()
    {
        var lines = Svg(
            "<defs><path d=\"M0 0L900 0\"/></defs><path id=\"a\" d=\"M0 0L5 0\"/><path id=\"b\" d=\"M0 0L50 0\"/><g style=\"display: "
                + "none\"><path d=\"M0 0H300\"/></g><path display=\"none\" d=\"M0 0H300\"/><clipPath><path d=\"M0 "
                + "0H300\"/></clipPath><polygon id=\"c\" points=\"0,0 10,0 10,10\"/><text><tspan>7</tspan></text>"
        ).Lines;
        Assert.Equal(["b", "c", "a"], lines.Select(l => l.Name), StringComparer.Ordinal);
        Assert.Equal(20 + Math.Sqrt(200), lines[1].Length, 1e-9);
    }

    [Theory]
    [InlineData("unreadable", "<html/>")]
    [InlineData("unreadable", "not xml")]
    [InlineData("unreadable", "")]
    [InlineData("unreadable", "<svg><path d=\"M0 0L1\"/></svg>")]
    [InlineData("unreadable", "<svg><path d=\"L0 0\"/></svg>")]
    [InlineData("unreadable", "<svg><path d=\"M0 0 X\"/></svg>")]
    [InlineData("unreadable", "<svg><path d=\"M0 0A1 1 0 2 0 5 5\"/></svg>")]
    [InlineData("unreadable", "<svg><g transform=\"spin(3)\"><path d=\"M0 0L1 1\"/></g></svg>")]
    [InlineData("unreadable", "<svg><path d=\"M0 0Z 5 5\"/></svg>")]
    [InlineData("unreadable", "<!DOCTYPE svg [<!ENTITY a \"M0 0L9 9\">]><svg><path d=\"&a;\"/></svg>")]
    [InlineData("no-line", "<svg><path d=\"M0 0\"/></svg>")]
    [InlineData("no-line", "<svg/>")]
    [InlineData("not-finite", "<svg><path d=\"M0 0L1e999 0\"/></svg>")]
    [InlineData("unknown-unit", "<svg width=\"3em\"><path d=\"M0 0L1 0\"/></svg>")]
    public void A_drawing_that_cannot_be_meant_is_refused(string code, string file) => Assert.Equal(code, Code(ContourFormat.Svg, file));

    [Fact]
    public void A_document_type_is_passed_over_and_nothing_is_fetched() =>
        Assert.Null(
            Code(
                ContourFormat.Svg,
                "<?xml version=\"1.0\"?><!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://127.0.0.1:9/svg11.dtd\"><svg><path "
                    + "d=\"M0 0L9 9\"/></svg>"
            )
        );

    [Fact]
    public void Too_much_of_anything_is_refused_before_it_hurts()
    {
        var clock = Stopwatch.StartNew();
        Assert.Equal(
            "too-large",
            Code(ContourFormat.Svg, $"<svg><path d=\"M0 0{string.Concat(Enumerable.Repeat("L1 1", 300_000))}\"/></svg>")
        );
        Assert.Equal(
            "too-large",
            Code(ContourFormat.Svg, $"<svg><path d=\"M0 0{string.Concat(Enumerable.Repeat("C1e9 0 0 1e9 5 5", 100))}\"/></svg>")
        );
        Assert.Equal(
            "unreadable",
            Code(
                ContourFormat.Svg,
                $"<svg>{string.Concat(Enumerable.Repeat("<g>", 5000))}{string.Concat(Enumerable.Repeat("</g>", 5000))}</svg>"
            )
        );
        Assert.Equal("too-large", Code(ContourFormat.Csv, "x_mm,y_mm\n1,2", new ImportLimits(Bytes: 5)));
        Assert.Equal(
            "too-large",
            Code(
                ContourFormat.Dxf,
                DxfOf(
                    "4",
                    string.Concat(Enumerable.Repeat("0\nLWPOLYLINE\n10\n0\n20\n0\n42\n1e-9\n10\n5\n20\n5\n", 60_000))
                        + string.Concat(Enumerable.Repeat("0\nARC\n10\n0\n20\n0\n40\n5\n50\n0\n51\n360\n", 3000))
                )
            )
        );
        Assert.True(clock.Elapsed < TimeSpan.FromSeconds(10), $"{clock.Elapsed}");
    }

    [Fact]
    public void A_heap_of_pieces_on_one_place_is_joined_in_reasonable_time()
    {
        var clock = Stopwatch.StartNew();
        Assert.Null(
            Code(ContourFormat.Dxf, DxfOf("4", string.Concat(Enumerable.Repeat("0\nLINE\n10\n0\n20\n0\n11\n0\n21\n0\n", 60_000))))
                is "no-line"
                    or null
                ? null
                : "other"
        );
        Assert.True(clock.Elapsed < TimeSpan.FromSeconds(10), $"{clock.Elapsed}");
    }

    [Fact]
    public void A_reader_can_be_stopped()
    {
        using var stopped = new CancellationTokenSource();
        stopped.Cancel();
        Assert.Throws<OperationCanceledException>(() =>
            ContourImport.Read(
                ContourFormat.Csv,
                Encoding.UTF8.GetBytes("x_mm,y_mm\n" + string.Concat(Enumerable.Repeat("1,2\n", 10_000))),
                cancel: stopped.Token
            )
        );
    }

    [Fact]
    [Trait("source", "ezdxf 0.18.1 (Debian 12): drawing in inches, spline points")]
    public void Lines_arcs_bulges_and_splines_of_a_drawing_join_into_one_contour()
    {
        var contours = Read(ContourFormat.Dxf, File.ReadAllBytes(TestData.PathTo("import", "entities.dxf")));
        Assert.True(contours.UnitStated);
        Assert.Equal(["back", "other"], contours.Lines.Select(l => l.Name), StringComparer.Ordinal);
        var (line, expected) = (contours.Lines[0], Reference.GetProperty("entities"));
        Assert.Equal(expected.GetProperty("length").GetDouble() * 25.4, line.Length, 0.05);
        var ends = new[] { line.Points[0], line.Points[^1] }.OrderBy(p => p.X).ToArray();
        Assert.Equal(25.4 * At(expected.GetProperty("from")).X, ends[0].X, 1e-6);
        Assert.Equal(25.4 * At(expected.GetProperty("to")).X, ends[1].X, 1e-6);
        foreach (var pair in expected.GetProperty("spline").EnumerateArray())
            Assert.True(Off(line.Points, 25.4 * At(pair)) < 0.03, $"{pair}");
        // The arc of LINE, ARC: centre (−3, −2), radius 2.
        Assert.True(Off(line.Points, 25.4 * new Point(-3 - Math.Sqrt(2), -2 + Math.Sqrt(2))) < 0.01);
    }

    [Fact]
    [Trait("source", "ezdxf 0.18.1 (Debian 12): R12 polyline with a bulge of a half circle")]
    public void An_old_polyline_with_bulges_is_read_in_the_unit_one_assumes()
    {
        var file = File.ReadAllBytes(TestData.PathTo("import", "polyline_r12.dxf"));
        var (line, expected) = (Read(ContourFormat.Dxf, file).Lines.Single(), Reference.GetProperty("polyline_r12"));
        Assert.Equal(expected.GetProperty("length").GetDouble(), line.Length, 0.01);
        Assert.Equal(expected.GetProperty("top").GetDouble(), line.Points.Max(p => p.Y), 0.01);
        Assert.Equal(line.Length * 10, Read(ContourFormat.Dxf, file, "cm").Lines.Single().Length, 1e-6);
    }

    [Fact]
    [Trait("source", "closed form: a rational quadratic spline is a circle")]
    public void A_rational_spline_is_the_circle_it_stands_for()
    {
        var line = Read(ContourFormat.Dxf, File.ReadAllBytes(TestData.PathTo("import", "rational.dxf"))).Lines.Single();
        Assert.All(line.Points, p => Assert.Equal(100, p.Length, 1e-9));
        Assert.Equal(100 * Math.PI, line.Length, 0.1);
        var answer = TracingAnalysis.Analyse(line.ToTracing(TracingKind.CrossSection, noise: 0) with { Midline = new Point(0, 100) });
        Assert.Equal(2 * Math.Sqrt(100 * 100 - 40 * 40), answer.Value("width@60"), 0.05);
    }

    private static string DxfOf(string unit, string entities) =>
        $"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n";

    [Theory]
    [InlineData("unreadable", "AutoCAD Binary DXF\r\n")]
    [InlineData("unreadable", "hello\nworld\n")]
    [InlineData("unreadable", "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n1\n20")]
    [InlineData("unreadable", "")]
    [InlineData("no-line", "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n")]
    public void A_file_that_is_no_drawing_is_refused(string code, string file) => Assert.Equal(code, Code(ContourFormat.Dxf, file));

    [Theory]
    [InlineData("unknown-unit", "20", "0\nLINE\n10\n0\n20\n0\n11\n1\n21\n1\n")]
    [InlineData("unreadable", "4", "0\nLINE\n10\n0\n20\n0\n11\n1\n")]
    [InlineData("unreadable", "4", "0\nLINE\n10\nx\n20\n0\n11\n1\n21\n0\n")]
    [InlineData("not-finite", "4", "0\nLINE\n10\n1e999\n20\n0\n11\n1\n21\n0\n")]
    [InlineData("unreadable", "4", "0\nSPLINE\n71\n3\n40\n0\n40\n1\n10\n0\n20\n0\n")]
    [InlineData("unreadable", "4", "0\nSPLINE\n71\n1\n40\n0\n40\n0\n40\n2\n40\n1\n10\n0\n20\n0\n10\n1\n20\n1\n")]
    [InlineData("unreadable", "4", "0\nSPLINE\n71\n99\n40\n0\n10\n0\n20\n0\n")]
    public void An_entity_that_lacks_something_is_refused(string code, string unit, string entities) =>
        Assert.Equal(code, Code(ContourFormat.Dxf, DxfOf(unit, entities)));

    [Fact]
    public void A_mirrored_arc_and_a_spline_of_fit_points_are_read()
    {
        var mirrored = Read(
            ContourFormat.Dxf,
            Encoding.ASCII.GetBytes(DxfOf("4", "0\nARC\n10\n50\n20\n0\n40\n10\n50\n0\n51\n90\n230\n-1\n"))
        )
            .Lines.Single();
        Assert.Contains(mirrored.Points, p => (p - new Point(-60, 0)).Length < 1e-9);
        var fitted = Read(ContourFormat.Dxf, Encoding.ASCII.GetBytes(DxfOf("6", "0\nSPLINE\n71\n3\n11\n0\n21\n0\n11\n1\n21\n0\n")))
            .Lines.Single();
        Assert.Equal(1000, fitted.Length, 1e-9);
    }

    [Theory]
    [InlineData("x_mm,y_mm\n1,2\n\n3.5,-4e1\n", 1)]
    [InlineData("\uFEFFx_cm;y_cm\r\n1;2\r\n3.5;-4e1\r\n", 10)]
    [InlineData("x_in\ty_in\n1\t2\n3.5\t-40", 25.4)]
    public void A_table_of_points_is_read_in_its_unit(string file, double scale) =>
        Assert.Equal(
            [scale * new Point(1, 2), scale * new Point(3.5, -40)],
            Read(ContourFormat.Csv, Encoding.UTF8.GetBytes(file)).Lines.Single().Points
        );

    [Theory]
    [InlineData("unreadable", "1,2\n3,4\n")]
    [InlineData("unreadable", "x_mm,y_cm\n3,4\n")]
    [InlineData("unreadable", "x_mm,y_mm\n3,4,5\n")]
    [InlineData("unreadable", "x_mm,y_mm\n3,four\n")]
    [InlineData("unknown-unit", "x_ft,y_ft\n3,4\n")]
    [InlineData("not-finite", "x_mm,y_mm\n1,NaN\n2,3\n")]
    [InlineData("no-line", "x_mm,y_mm\n1,2\n")]
    [InlineData("no-line", "")]
    public void A_table_that_is_none_is_refused(string code, string file) => Assert.Equal(code, Code(ContourFormat.Csv, file));

    [Fact]
    public void An_unknown_assumed_unit_is_refused() =>
        Assert.Equal("unknown-unit", ContourImport.Read(ContourFormat.Csv, "x_mm,y_mm\n1,2\n3,4"u8.ToArray(), "ell").Refused?.Code);

    [Fact]
    public void A_contour_written_as_a_table_measures_as_the_tracing_it_was()
    {
        var back = new RandomBack(new Random(3)).Trace(new Random(3), 2, 1);
        var csv =
            "x_mm,y_mm\n" + string.Join('\n', back.Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:R},{p.Y:R}")));
        Assert.Equal(
            TracingAnalysis.Analyse(back).Measures,
            TracingAnalysis
                .Analyse(Read(ContourFormat.Csv, Encoding.UTF8.GetBytes(csv)).Lines.Single().ToTracing(TracingKind.CrossSection))
                .Measures
        );
    }

    [Fact]
    public void No_damaged_file_whatever_makes_a_reader_throw()
    {
        byte[][] files =
        [
            File.ReadAllBytes(TestData.PathTo("import", "rational.dxf")),
            File.ReadAllBytes(TestData.PathTo("import", "entities.dxf")),
            Encoding.UTF8.GetBytes(
                "<svg width=\"9mm\" viewBox=\"0 0 9 9\"><g transform=\"rotate(3)\"><path d=\"M1 1C2 2 3 3 4 4A5 5 0 0 1 6 6Z\"/></g></svg>"
            ),
            "x_mm,y_mm\n1,2\n3,4\n"u8.ToArray(),
        ];
        Gen.Select(Gen.Int[0, 3], Gen.Int[0, 1 << 20], Gen.Byte.Array[0, 6], Gen.Int[0, 30])
            .Sample(
                (which, at, insert, cut) =>
                {
                    var file = files[which].ToList();
                    var start = at % file.Count;
                    file.RemoveRange(start, Math.Min(cut, file.Count - start));
                    file.InsertRange(start, insert);
                    foreach (var format in Enum.GetValues<ContourFormat>())
                    {
                        var read = ContourImport.Read(format, file.ToArray());
                        Assert.True(read.Refused is not null || read.Contours!.Lines.Length > 0);
                    }
                },
                iter: 3000
            );
    }
}
