using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>The lines of a table of gauges. Each holds one mark; those of one name are one gauge, which enters whole: with a mark left
/// out it would be another gauge.</summary>
internal sealed class GaugeLines
{
    private readonly Practice _rules;
    private readonly Import _import;
    private readonly ImportAnswers _answers;
    private readonly Dictionary<int, LineStep> _steps = [];
    private readonly List<ImportQuestion> _questions = [];
    private readonly List<SheetLine> _open = [];

    /// <param name="lines">All of the table, in their order.</param>
    public GaugeLines(Practice rules, Import import, ImportAnswers answers, IReadOnlyList<SheetLine> lines)
    {
        (_rules, _import, _answers) = (rules, import, answers);
        var marks = lines.Select(GaugeMarkLine.Read).ToList();
        var taken = new HashSet<string>(StringComparer.Ordinal);
        // A line without a name is refused; it may be a mark of the gauge above it, which then is not whole.
        var last = "";
        foreach (var of in marks.GroupBy(m => last = m.Name?.Trim() ?? last, StringComparer.OrdinalIgnoreCase).Where(g => g.Key != ""))
            Gauge(of.Key, [.. of], taken);
    }

    /// <summary>What has to be answered before the lines can be entered.</summary>
    public IReadOnlyList<ImportQuestion> Questions => [.. _questions.DistinctBy(q => (q.About, q.Of))];

    /// <summary>Lines about which something was asked after they were tried, because a gauge was entered by hand meanwhile, are
    /// refused.</summary>
    public void RefuseOpen()
    {
        foreach (var line in _open)
            line.Refuse(
                "gauge",
                new Refused("gauge-stands", "A gauge like this was entered meanwhile. This line was left out; send the table in again.")
            );
    }

    public LineStep? StepFor(SheetLine line) => _steps.GetValueOrDefault(line.Number);

    private void Gauge(string name, List<GaugeMarkLine> of, HashSet<string> taken)
    {
        var table = Table(name, of);
        if (table is not null && Standing(name, table, of) is var (own, over))
        {
            if (!taken.Add(own.Key))
                foreach (var mark in of)
                    mark.Line.Refuse(
                        mark.Line.Raw("key") is null ? "gauge" : "key",
                        new Refused("key-twice", $"Another gauge of this table has the key {own.Key}. Give one of them another key.")
                    );
            else
                Steps(own, over, of);
        }

        // The others of a gauge that cannot be read whole.
        if (of.FirstOrDefault(m => m.Line.Refused is not null) is not { } wrong)
            return;
        foreach (var mark in of.Where(m => m.Line.Refused is null))
            mark.Line.Refuse(null, NotWhole(wrong.Line.Number));
    }

    internal static Refused NotWhole(int line) =>
        new(
            "gauge-not-whole",
            $"A gauge is entered whole, and line {line} of it cannot be. Put that line right, and send the table in again."
        );

    /// <summary>The gauge as its lines say it; null where one of them cannot be read, or they are no table.</summary>
    private ChangeGaugeTable? Table(string name, List<GaugeMarkLine> of)
    {
        if (GaugeRefusals.OfName(name) is { } noName)
            of[0].Line.Refuse("gauge", noName);
        var key = Agreed(of, "key", m => m.Key);
        if (key is null && GaugeRefusals.KeyOf(name).Length == 0)
            of[0].Line.Refuse("gauge", new Refused("no-key", $"No key can be made of this name. {GaugeRefusals.KeyRule}"));
        var measure = Agreed(of, "reads", m => m.Measure);
        if (measure is null && of.All(m => m.Line.Raw("reads") is null))
            of[0].Line.Refuse("reads", new Refused("no-measure", "Say what this gauge measures: an angle or a width."));
        var places = GaugeShape.Places([.. of.Select(m => ((string?)m.Mark, m.Place))]);
        var asked = _import.Plan!.LengthUnit;
        var unit = measure is null ? "" : GaugeMarkLine.UnitOf(measure);
        var read = new List<(GaugeMarkLine Line, GaugeMark Mark)>();
        foreach (var (mark, place) in of.Zip(places))
        {
            if (mark.Mark is null || mark.Value(measure, asked) is not { } value)
                continue;
            var one = new GaugeMark(mark.Mark, place, value);
            if (GaugeRefusals.OfMark(one) is { } bad)
                mark.Line.Refuse(ReadableName.IsMissing(one.Name) || Plausible.GaugeMark.Holds(value) ? "mark" : "value", bad);
            read.Add((mark, one));
        }

        if (of.Any(m => m.Line.Refused is not null))
            return null;
        if (asked is null && !GaugeMarkLine.IsAngle(measure!) && of.Any(m => m.NamesNoUnit))
        {
            Ask(
                of,
                new ImportQuestion("lengthUnit", "In which unit are the widths that name none?", GaugeMarkLine.Lengths, Column(of, "value"))
            );
            return null;
        }

        if (read.Count < GaugeShape.FewestMarks)
            of[0].Line.Refuse("mark", new Refused("bad-gauge", "A gauge needs at least two marks, and this table holds one of it."));
        if (read.Count > GaugeRefusals.MostMarks)
            of[^1].Line.Refuse("mark", GaugeRefusals.TooManyMarks);
        foreach (var fault in GaugeShape.Faults([.. read.Select(r => r.Mark)]))
        {
            var line = read[fault.Index].Line.Line;
            line.Refuse(
                !fault.SamePlace ? "value"
                    : line.Raw("place") is null ? "mark"
                    : "place",
                GaugeRefusals.OfFault(fault)
            );
        }

        return of.Any(m => m.Line.Refused is not null)
            ? null
            : new ChangeGaugeTable(
                key ?? GaugeRefusals.KeyOf(name),
                name,
                measure!,
                unit,
                [.. read.Select(r => r.Mark)],
                $"Brought in from '{_import.Name}'.",
                _import.By
            );
    }

    /// <summary>The table under the key under which it would stand, and the version in use there, 0 without one; null where that is not
    /// answered, or was answered by leaving it out.</summary>
    private (ChangeGaugeTable Own, int Over)? Standing(string name, ChangeGaugeTable table, List<GaugeMarkLine> of)
    {
        if (Alike(table) is not { } stands)
            return (table, 0);
        if (stands.Key == table.Key && ImportedGauge.IsSame(stands, table))
            return (table, stands.Version);
        switch (_answers.Gauge(name))
        {
            case ImportAnswers.NewVersion:
                return (table with { Key = stands.Key, Name = stands.Name }, stands.Version);
            case ImportAnswers.Another when stands.Key != table.Key:
                return (table, 0);
            case ImportAnswers.LeaveOut:
                foreach (var mark in of)
                    mark.Line.Refuse("gauge", new Refused("left-out", $"“{stands.Name}” was said to stay as it is: the line is left out."));
                return null;
            default:
                Ask(of, Question(name, table, stands, of));
                return null;
        }
    }

    private void Ask(List<GaugeMarkLine> of, ImportQuestion question)
    {
        _questions.Add(question);
        _open.AddRange(of.Select(m => m.Line));
    }

    private static IReadOnlyList<string> Column(List<GaugeMarkLine> of, string field) => [of[0].Line.Header(field) ?? field];

    /// <summary>The gauge in use that is meant, or may be; null without one.</summary>
    private GaugeTable? Alike(ChangeGaugeTable table)
    {
        var used = _rules.Gauges.Values.Where(g => !g.Retired).ToList();
        if (used.Find(g => g.Key == table.Key) is { } same)
            return same;
        if (used.Find(g => string.Equals(g.Name.Trim(), table.Name, StringComparison.OrdinalIgnoreCase)) is { } named)
            return named;
        var alike = new AlikeNames([.. used.Select(g => (DeterministicId.From("gauge", g.Key), g.Name, g.Name))]).Find(table.Name);
        return alike.Count == 0 ? null : used.Find(g => DeterministicId.From("gauge", g.Key) == alike[0].Id);
    }

    private static ImportQuestion Question(string name, ChangeGaugeTable table, GaugeTable stands, List<GaugeMarkLine> of)
    {
        var another = stands.Key != table.Key;
        return new ImportQuestion(
            "answers",
            $"“{stands.Name}” stands already, with {(ImportedGauge.IsSame(stands, table) ? "these" : "other")} marks. "
                + $"What becomes of “{name}”?",
            another
                ? [ImportAnswers.LeaveOut, ImportAnswers.NewVersion, ImportAnswers.Another]
                : [ImportAnswers.LeaveOut, ImportAnswers.NewVersion],
            Column(of, "gauge"),
            ImportAnswers.OfGauge(name),
            Labels:
            [
                .. (string[])
                    [
                        "The gauge that stands is kept: leave these lines out",
                        $"It is the same gauge: these marks are its version {stands.Version + 1}",
                    ],
                .. another ? (string[])[$"It is another gauge, with the key {table.Key}"] : [],
            ]
        );
    }

    private void Steps(ChangeGaugeTable table, int over, List<GaugeMarkLine> of)
    {
        var known = _rules.Gauges.GetValueOrDefault(table.Key);
        // What an interrupted run entered stands already under the version that it made.
        var same = known is { Retired: false } && ImportedGauge.IsSame(known, table);
        var instead = over > 0 && _answers.Gauge(of[0].Name!) == ImportAnswers.NewVersion;
        var made = new ImportedGauge(table.Key, same ? known!.Version : (known?.Version ?? 0) + 1, instead);
        _steps[of[0].Line.Number] = new LineStep.Gauged(_rules.Id, table, over, made);
        foreach (var mark in of.Skip(1))
            _steps[mark.Line.Number] = new LineStep.Beside(of[0].Line.Number);
    }

    /// <summary>What the lines of one gauge say together; a line that says otherwise is refused, and one that says nothing need
    /// not.</summary>
    private static string? Agreed(List<GaugeMarkLine> of, string field, Func<GaugeMarkLine, string?> said)
    {
        if (of.Select(said).FirstOrDefault(s => s is not null) is not { } first)
            return null;
        foreach (var mark in of)
        {
            if (said(mark) is { } other && other != first)
                mark.Line.Refuse(
                    field,
                    new Refused(
                        "says-otherwise",
                        $"A line before says otherwise of this gauge. Give it one {(field == "key" ? "key" : "measure")} in all its lines."
                    )
                );
        }

        return first;
    }
}
