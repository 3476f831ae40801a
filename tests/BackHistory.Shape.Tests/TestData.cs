using System.Globalization;

namespace BackHistory.Shape.Tests;

internal static class TestData
{
    internal static string PathTo(params string[] parts) => Path.Combine([AppContext.BaseDirectory, "Data", .. parts]);

    /// <summary>Rows of a CSV file of numbers, header dropped.</summary>
    internal static double[][] Csv(string name) =>
        [
            .. File.ReadLines(PathTo(name))
                .Skip(1)
                .Where(l => l.Length > 0)
                .Select(l => l.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray()),
        ];
}
