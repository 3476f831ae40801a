using System.Globalization;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Tests;

/// <summary>Reference data beside the tests.</summary>
static class TestData
{
    internal static string Text(string name) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Data", name));

    /// <summary>Rows of a CSV file as text, without its header.</summary>
    internal static string[][] Rows(string name) =>
        [
            .. Text(name)
                .Split('\n')
                .Skip(1)
                .Select(l => l.TrimEnd('\r'))
                .Where(l => l.Length > 0)
                .Select(l => l.Split(',').Select(c => c.Trim('"')).ToArray()),
        ];

    internal static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    /// <summary>Two columns of a CSV file as observations: the first is the day.</summary>
    internal static Observation[] Series(string name, double sd = 1, int time = 0, int value = 1) =>
        [.. Rows(name).Select(r => new Observation(Number(r[time]), Number(r[value]), sd))];

    internal static Observation[] Series(params (double Day, double Value)[] points) =>
        [.. points.Select(p => new Observation(p.Day, p.Value, 1))];
}
