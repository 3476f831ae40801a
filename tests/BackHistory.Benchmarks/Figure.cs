using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace BackHistory.Benchmarks;

/// <summary>One measured figure beside what it is compared with.</summary>
/// <param name="Baseline">what <paramref name="Theirs"/> is: another program doing the same work, or a limit</param>
/// <param name="Theirs">null where the other program is not there</param>
/// <param name="Counts">what was counted on the way to the figure, by name; written after it</param>
internal sealed record Figure(
    string Bench,
    double Ours,
    string Baseline,
    double? Theirs,
    string Unit,
    IReadOnlyList<(string Name, int Count)>? Counts = null
)
{
    /// <summary>Ours over theirs.</summary>
    internal double? Ratio => Theirs is { } theirs and not 0 ? Ours / theirs : null;

    internal string Json()
    {
        using var stream = new MemoryStream();
        using (var writer = new Utf8JsonWriter(stream, Plain))
        {
            writer.WriteStartObject();
            writer.WriteString("bench", Bench);
            writer.WriteNumber("ours", Rounded(Ours));
            writer.WriteString("baseline", Baseline);
            Number("theirs", Theirs);
            Number("ratio", Ratio);
            writer.WriteString("unit", Unit);
            foreach (var (name, count) in Counts ?? [])
                writer.WriteNumber(name, count);
            writer.WriteEndObject();

            void Number(string name, double? value)
            {
                if (value is { } v)
                    writer.WriteNumber(name, Rounded(v));
                else
                    writer.WriteNull(name);
            }
        }
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>A person reads these lines too: × and ° stay what they are.</summary>
    private static readonly JsonWriterOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static double Rounded(double value) =>
        value == 0 ? 0 : Math.Round(value, Math.Clamp(3 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 12));
}
