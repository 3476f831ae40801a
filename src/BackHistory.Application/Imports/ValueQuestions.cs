using BackHistory.Formats.Sheets;
using BackHistory.History.Practices;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What is asked about single values: words that are no station of the protocol, and names that are almost a known one.</summary>
internal sealed class ValueQuestions(ImportPlan plan, KnownNames names, IReadOnlyList<Station> stations)
{
    /// <summary>At once; the next ones come when these are answered.</summary>
    private const int Most = 40;

    /// <summary>Of saddles to choose from, the most alike first.</summary>
    private const int MostOffered = 200;

    private readonly ImportAnswers _answers = new(plan, names, stations);

    private readonly KnownLabels _labels = new(names);

    public IEnumerable<ImportQuestion> QuestionsFor(Sheet sheet, IReadOnlyDictionary<string, (int Column, string Header)> columns)
    {
        var open = plan.Kind == ImportKind.Visits && columns.TryGetValue("station", out var at) ? OfStations(sheet, at) : [];
        foreach (var (field, thing) in ImportFields.Named(plan.Kind))
        {
            if (columns.TryGetValue(field, out var column))
                open = open.Concat(
                    plan.Kind == ImportKind.SaddleWork && thing == NamedThing.Saddle
                        ? OfSaddles(sheet, column)
                        : OfNames(sheet, column, thing)
                );
        }

        return open.DistinctBy(q => q.Of, StringComparer.OrdinalIgnoreCase).Take(Most);
    }

    private IEnumerable<ImportQuestion> OfStations(Sheet sheet, (int Column, string Header) at) =>
        Values(sheet, at.Column)
            .Where(text => _answers.Station(text) is null && !_answers.IsLeftOut(text))
            .Select(text => new ImportQuestion(
                "answers",
                $"“{text}” is no station of the protocol. Which one is it?",
                [.. stations.Select(s => s.Key), ImportAnswers.LeaveOut],
                [at.Header],
                ImportAnswers.OfStation(text),
                Labels: [.. stations.Select(s => $"{s.Key}: {s.Where}"), "None of them: leave its lines out"]
            ));

    /// <summary>Work is done on a saddle that is known: which one is asked, and none is made.</summary>
    private IEnumerable<ImportQuestion> OfSaddles(Sheet sheet, (int Column, string Header) at)
    {
        var alike = new AlikeNames(_labels.Of(NamedThing.Saddle));
        foreach (var text in Values(sheet, at.Column))
        {
            if (
                names.Saddles.Any(s => string.Equals(s.Label.Trim(), text.Trim(), StringComparison.OrdinalIgnoreCase))
                || _answers.IsAnswered(NamedThing.Saddle, text)
                || _answers.IsLeftOut(NamedThing.Saddle, text)
            )
                continue;
            var first = alike.Find(text).Select(a => a.Id).ToHashSet();
            var offered = names
                .Saddles.OrderByDescending(s => first.Contains(s.Id))
                .ThenBy(s => s.Label, StringComparer.OrdinalIgnoreCase)
                .Take(MostOffered)
                .ToList();
            yield return new ImportQuestion(
                "answers",
                $"“{text}” is no saddle that is known. Which one is it?",
                [.. offered.Select(s => s.Id.ToString()), ImportAnswers.LeaveOut],
                [at.Header],
                ImportAnswers.OfName(NamedThing.Saddle, text),
                Labels: [.. offered.Select(s => s.Label), "None of them: leave its lines out"]
            );
        }
    }

    private IEnumerable<ImportQuestion> OfNames(Sheet sheet, (int Column, string Header) at, NamedThing thing)
    {
        var known = new AlikeNames(_labels.Of(thing));
        foreach (var text in Values(sheet, at.Column))
        {
            if (_answers.IsAnswered(thing, text) || known.Find(text) is not { Count: > 0 } alike)
                continue;
            yield return new ImportQuestion(
                "answers",
                $"“{text}” is almost a name that is known. Is it the same {thing.ToString().ToLowerInvariant()}?",
                [.. alike.Select(a => a.Id.ToString()), ImportAnswers.Another],
                [at.Header],
                ImportAnswers.OfName(thing, text),
                Labels: [.. alike.Select(a => $"The same: {a.Label}"), "No, another one"]
            );
        }
    }

    private static IEnumerable<string> Values(Sheet sheet, int column) =>
        sheet
            .Rows.Select(r => r[column])
            .Where(c => c.Kind is CellKind.Text or CellKind.Number)
            .Select(c => c.Text.Normalize())
            .Distinct(StringComparer.OrdinalIgnoreCase);
}
