using System.Collections.Immutable;
using System.Globalization;
using BackHistory.Shape;
using CsvHelper;

namespace BackHistory.Formats.Drawings;

/// <summary>A tracing as a table: a header <c>x_mm,y_mm</c> and a row a point, in traced order, midline mark at the origin. A third column
/// <c>mark</c> names the points that are marks: on a topline, its stations. Semicolons or tabs stand as well between them, and then a
/// decimal comma is as good as a point.</summary>
public static class TracingTable
{
    private const int LongestMark = 60;

    public static (Tracing? Tracing, Unread? Unread) Read(byte[] utf8, TracingKind kind, string? station, double noise, int mostPoints)
    {
        var points = ImmutableArray.CreateBuilder<Point>();
        var marks = new Dictionary<string, Point>(StringComparer.Ordinal);
        var separator = SeparatorOf(utf8);
        using var csv = CsvRecords.Read(utf8, 4096, separator);
        try
        {
            csv.ReadHeader();
            if (csv.Headers is not (["x_mm", "y_mm"] or ["x_mm", "y_mm", "mark"]))
                return (
                    null,
                    new Unread("unreadable", "The first line must be the header x_mm,y_mm or x_mm,y_mm,mark: in millimetres, y up.")
                );
            var columns = csv.Headers.Count;
            while (csv.Read())
            {
                if (points.Count > mostPoints)
                    return (null, new Unread("too-many-points", $"More than {mostPoints} points in one tracing. Thin it out."));
                if (
                    csv.FieldCount != columns
                    || !Number(csv.GetString(0), separator, out var x)
                    || !Number(csv.GetString(1), separator, out var y)
                )
                {
                    var line = string.Create(CultureInfo.InvariantCulture, $"line {csv.LineNumber}");
                    return (
                        null,
                        new Unread("unreadable", $"In {line} two numbers with a decimal point are expected. Nothing was saved.", line)
                    );
                }

                points.Add(new Point(x, y));
                if (columns == 2 || csv.GetString(2).Trim() is not { Length: > 0 } mark)
                    continue;
                if (mark.Length > LongestMark || !marks.TryAdd(mark, points[^1]))
                {
                    var line = string.Create(CultureInfo.InvariantCulture, $"line {csv.LineNumber}");
                    return (null, new Unread("unreadable", $"In {line} stands a mark that is too long, or stands twice.", line));
                }
            }
        }
        catch (CsvFormatException e)
        {
            return (null, new Unread("unreadable", $"Line {e.LineNumber} is no line of a comma-separated table. Nothing was saved."));
        }

        return (
            new Tracing
            {
                Kind = kind,
                Station = station,
                Points = points.ToImmutable(),
                Marks = marks.ToImmutableSortedDictionary(StringComparer.Ordinal),
                Noise = noise,
            },
            null
        );
    }

    /// <summary>What stands in the header.</summary>
    private static char SeparatorOf(ReadOnlySpan<byte> utf8)
    {
        var end = utf8.IndexOf((byte)'\n');
        var header = end < 0 ? utf8 : utf8[..end];
        return header.Contains((byte)';') ? ';'
            : header.Contains((byte)'\t') ? '\t'
            : ',';
    }

    private static bool Number(string? text, char separator, out double value) =>
        double.TryParse(separator == ',' ? text : text?.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out value);
}
