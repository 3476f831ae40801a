using BackHistory.Shape.Gauges;

namespace BackHistory.Service.Practices;

/// <summary>Columns that were copied from a spreadsheet: mark and value, or mark, place and value, with tabs or semicolons between
/// them and decimal points or commas; two columns with one comma between them too.</summary>
internal static class GaugePaste
{
    /// <summary>One row for every line that holds something; what is no number stays as it was copied, to be put right in its
    /// row.</summary>
    public static List<GaugeMarkForm> Read(string? pasted)
    {
        var rows = (pasted ?? "").Split('\n', StringSplitOptions.TrimEntries).Where(line => line.Length > 0).Select(RowFrom).ToList();
        // A first line whose last column is no number while the next one's is, is titles.
        if (rows.Count > 1 && GaugeText.Number(rows[0].Value) is null && GaugeText.Number(rows[1].Value) is not null)
            rows.RemoveAt(0);
        return rows;
    }

    private static GaugeMarkForm RowFrom(string line)
    {
        var parts = Parts(line);
        return parts.Length switch
        {
            1 => new GaugeMarkForm { Name = parts[0] },
            2 => new GaugeMarkForm { Name = parts[0], Value = parts[1] },
            _ => new GaugeMarkForm
            {
                Name = parts[0],
                Position = parts[1],
                Value = parts[2],
            },
        };
    }

    /// <summary>Columns stand between tabs or semicolons. Between commas there are two: of three, nobody can tell “4, 30.5” from
    /// “4, 30, 5”, so the rest stays as it was copied and is shown as no number.</summary>
    private static string[] Parts(string line)
    {
        foreach (var between in new[] { '\t', ';' })
            if (line.Contains(between, StringComparison.Ordinal))
                return line.TrimEnd(between).Split(between, StringSplitOptions.TrimEntries);
        return line.Split(',', 2, StringSplitOptions.TrimEntries) is [var mark, var rest]
            ? [mark, rest.Contains(',', StringComparison.Ordinal) ? $"{rest} ?" : rest]
            : [line];
    }
}
