using System.Text.Json;
using BackHistory.Trends.Repeats;

namespace BackHistory.Trends.Lines;

/// <summary>One line of the verb <c>repeatability</c> (commands.md): JSON in, JSON out.</summary>
public static class RepeatabilityLine
{
    static readonly string[] Fields = ["id", "subjects"];

    /// <inheritdoc cref="TrendLine.Answer"/>
    public static (string Json, bool Refused) Answer(string line, int lineNumber)
    {
        using var document = AnswerLine.Parse(line, out var refusal);
        if (document is null)
            return (AnswerLine.Refused(null, lineNumber, refusal!), true);
        var reader = new LineReader();
        var id = AnswerLine.IdOf(document.RootElement);
        var subjects = Read(document.RootElement, reader);
        if (id is null)
            reader.Refuse(RefusalCode.Unreadable, "The line has no 'id' that is a string.");
        if (reader.Fault is not null)
            return (AnswerLine.Refused(id, lineNumber, reader.Fault), true);
        var result = Repeatability.RepeatabilityOf(subjects);
        if (result.WithinSd is { } sd && !double.IsFinite(sd * 3))
            return (AnswerLine.Refused(id, lineNumber, new(RefusalCode.NotFinite, "The numbers are too large to compute with.")), true);
        return (ToJson(id!, result), false);
    }

    static List<List<double>> Read(JsonElement root, LineReader reader)
    {
        var subjects = new List<List<double>>();
        if (!reader.Object(root, "the line", Fields))
            return subjects;
        if (!root.TryGetProperty("subjects", out var rows) || rows.ValueKind != JsonValueKind.Array)
        {
            reader.Refuse(RefusalCode.Unreadable, "The line has no array 'subjects'.");
            return subjects;
        }
        foreach (var row in rows.EnumerateArray())
        {
            var values = new List<double>();
            subjects.Add(values);
            if (row.ValueKind != JsonValueKind.Array)
            {
                reader.Refuse(RefusalCode.Unreadable, $"Subject {subjects.Count} is not an array.");
                continue;
            }
            foreach (var value in row.EnumerateArray())
                if (reader.Number(value, $"value {values.Count + 1} of subject {subjects.Count}") is { } number)
                    values.Add(number);
        }
        return subjects;
    }

    static string ToJson(string id, RepeatabilityResult result) =>
        AnswerLine.Write(json =>
        {
            json.WriteString("id", id);
            json.Number("withinSd", result.WithinSd);
            json.WriteNumber("df", result.Df);
            json.Number("minimalDetectable", result.MinimalDetectable);
            json.Number("icc11", result.Icc11);
            json.Number("icc21", result.Icc21);
            json.Number("icc31", result.Icc31);
        });
}
