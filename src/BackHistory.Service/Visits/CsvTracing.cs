using System.Collections.Immutable;
using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Shape;
using CsvHelper;
using CsvHelper.Configuration;

namespace BackHistory.Service.Visits;

/// <summary>A tracing as a table: a header <c>x_mm,y_mm</c> and a row a point, in traced order, midline mark at the origin.</summary>
internal static class CsvTracing
{
    public static (Tracing? Tracing, Refused? Refused) Read(TextReader text, TracingKind kind, string? station, double noise)
    {
        using var csv = new CsvReader(text, new CsvConfiguration(CultureInfo.InvariantCulture) { MaxFieldSize = 64, BadDataFound = null, MissingFieldFound = null });
        var points = ImmutableArray.CreateBuilder<Point>();
        try
        {
            if (!csv.Read() || !csv.ReadHeader() || csv.HeaderRecord is not ["x_mm", "y_mm"])
                return (null, new Refused("unreadable", "The first line must be the header x_mm,y_mm: both in millimetres, y up."));
            while (csv.Read())
            {
                if (points.Count > TracingLimits.MostPoints)
                    return (null, new Refused("too-many-points", $"More than {TracingLimits.MostPoints} points in one tracing. Thin it out."));
                if (!Number(csv.GetField(0), out var x) || !Number(csv.GetField(1), out var y))
                {
                    return (null, new Refused(
                        "unreadable", $"Line {csv.Parser.Row}: two numbers with a decimal point are expected. Nothing was saved.", Place: $"line {csv.Parser.Row}"));
                }

                points.Add(new Point(x, y));
            }
        }
        catch (CsvHelperException)
        {
            return (null, new Refused("unreadable", $"Line {csv.Parser.Row} is no line of a comma-separated table."));
        }

        return (new Tracing { Kind = kind, Station = station, Points = points.ToImmutable(), Noise = noise }, null);
    }

    private static bool Number(string? text, out double value) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value);
}
