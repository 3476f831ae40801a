using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Imports;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Imports;

/// <summary>Reads, tries and enters spreadsheets: every line through the decider that a hand would go through, and whole or not at
/// all.</summary>
public sealed class Importer(ImportStore imports, ParsedSheets sheets, Commands commands, PracticeQueries practices, TimeProvider time)
{
    private const int Chunk = 500;

    private const int AtOnce = 4;

    /// <summary>Tries a plan. Nothing is saved.</summary>
    public async Task<(ImportTrial? Trial, Refused? Refused)> Try(string practice, Import import, CancellationToken ct)
    {
        var (reading, refused) = await Open(practice, import, ct);
        if (refused is not null)
            return (null, refused);
        var questions = ImportQuestions.QuestionsFor(
            reading!.Sheet,
            import.Plan!,
            reading.Columns,
            new ValueQuestions(import.Plan!, reading.Names, reading.Rules.Stations)
        );
        // What is asked of whole gauges can be asked once their cells can be read.
        if (questions.Count == 0)
            questions = reading.Maker.Questions;
        if (questions.Count > 0)
            return (new ImportTrial(questions, new ImportCounts(0, 0, 0), []), null);
        var by = CallerOf(practice, import, reading.Now);
        var horses = new Dictionary<Guid, Horse?>();
        var saddles = new Dictionary<Guid, Saddle?>();
        var rules = reading.Rules;
        var (lines, tried) = (new List<ImportLine>(), new Dictionary<int, ImportLine>());
        foreach (var line in reading.Lines)
        {
            var step = reading.Maker.Make(line);
            var decided = line.Refused is { } bad
                ? bad
                : step switch
                {
                    LineStep.Register s => s.Decide(null, by).Item1,
                    LineStep.RegisterOne s => s.Decide(null, by).Item1,
                    LineStep.Measured s => s.Decide(await Known(s.HorseId), by).Item1,
                    LineStep.Worked s => await After(s),
                    LineStep.Gauged s => Gauge(s),
                    LineStep.Beside s when Of(s).Verdict == LineVerdict.Refused => GaugeLines.NotWhole(s.First),
                    _ => Decided.Yes(),
                };
            var enters =
                decided.Events.Count > 0
                || step is LineStep.Keep
                || (step is LineStep.Beside with && Of(with).Verdict == LineVerdict.Enters);
            lines.Add(
                ImportLines.LineFor(
                    import,
                    line,
                    decided.Refused is not null ? LineVerdict.Refused
                        : enters ? LineVerdict.Enters
                        : LineVerdict.Already,
                    decided.Refused,
                    [],
                    kept: false
                )
            );
            tried[line.Number] = lines[^1];
        }

        return (new ImportTrial([], ImportLines.Count(lines), lines), null);

        // Each after those before it, as it will be entered: a saddle that a line puts on one horse is not free for the next.
        async Task<Decided> After(LineStep.Worked s)
        {
            if (!saddles.TryGetValue(s.SaddleId, out var saddle))
                saddle = await imports.Saddle(practice, s.SaddleId, ct);
            var (decided, _) = s.Decide(saddle, await Known(s.Work.HorseId), by);
            saddles[s.SaddleId] = decided.Events.Aggregate(saddle, History.Saddles.Saddle.After);
            return decided;
        }

        Decided Gauge(LineStep.Gauged s)
        {
            var (decided, _) = s.Decide(rules, by);
            rules = decided.Events.Aggregate(rules, (before, e) => History.Practices.Practice.After(before, e)!);
            return decided;
        }

        ImportLine Of(LineStep.Beside s) => tried[s.First];

        async Task<Horse?> Known(Guid id) =>
            horses.TryGetValue(id, out var horse) ? horse : horses[id] = await imports.Horse(practice, id, ct);
    }

    /// <summary>Enters what its plan says. Interrupted and begun again it goes on; nothing is entered twice.</summary>
    public async Task Enter(string practice, Guid importId, CancellationToken ct)
    {
        if (await imports.Load(practice, importId, ct) is not { State: ImportState.Entering } import)
            return;
        var (reading, refused) = await Open(practice, import, ct);
        // What was tried a moment ago and cannot be read now has lost its file: there is nothing left to enter.
        if (refused is not null)
            return;
        var done = (await imports.Lines(practice, importId, null, 0, int.MaxValue, ct)).ToDictionary(l => l.Line);
        reading!.Maker.RefuseOpen();
        import = import with { Lines = reading.Lines.Count };
        foreach (var chunk in reading.Lines.Chunk(Chunk))
        {
            // Known lines are read too: what they made must be known to the lines after them.
            var steps = chunk
                .Select(line => (Line: line, Step: reading.Maker.Make(line)))
                .Where(s => !done.ContainsKey(s.Line.Number))
                .ToList();
            var entered = await Enter(practice, import, steps, done, reading.Now, ct);
            foreach (var line in entered)
                done[line.Line] = line;
            import = import with { Counts = ImportLines.Count(done.Values) };
            var saved = await imports.Save(
                practice,
                import,
                entered,
                [.. steps.Where(s => s.Line.Refused is null).Select(s => s.Step).OfType<LineStep.Keep>().Select(k => k.Document)],
                ct
            );
            // Another run of the same was faster.
            if (!saved)
                return;
        }

        if (import.File is { } file)
            sheets.Forget(file, import.Sheet);
        await imports.Forget(practice, import with { EnteredAt = time.GetUtcNow() }, ImportState.Entered, ct);
    }

    private async Task<IReadOnlyList<ImportLine>> Enter(
        string practice,
        Import import,
        IReadOnlyList<(SheetLine Line, LineStep? Step)> steps,
        IReadOnlyDictionary<int, ImportLine> done,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var by = CallerOf(practice, import, now);
        var context = by.Context;
        var lines = new System.Collections.Concurrent.ConcurrentBag<ImportLine>();
        foreach (var (line, step) in steps)
        {
            if (line.Refused is { } bad)
                lines.Add(ImportLines.LineFor(import, line, LineVerdict.Refused, bad, []));
            else if (step is null)
                lines.Add(ImportLines.LineFor(import, line, LineVerdict.Already, null, []));
            else if (step is LineStep.Keep keep)
                lines.Add(ImportLines.LineFor(import, line, LineVerdict.Enters, null, [keep.Made]));
        }

        var streams = steps
            .Where(s => s.Line.Refused is null)
            .GroupBy(s =>
                s.Step switch
                {
                    LineStep.Register r => r.Given.HorseId,
                    LineStep.RegisterOne r => r.Given.SaddleId,
                    LineStep.Measured m => m.HorseId,
                    LineStep.Worked w => w.SaddleId,
                    LineStep.Gauged g => g.PracticeId,
                    _ => Guid.Empty,
                }
            )
            .Where(g => g.Key != Guid.Empty);
        await Parallel.ForEachAsync(
            streams,
            new ParallelOptions { MaxDegreeOfParallelism = AtOnce, CancellationToken = ct },
            async (stream, token) =>
            {
                var made = new Dictionary<int, IReadOnlyList<MadeByImport>>();
                var all = stream.ToList();
                var outcomes =
                    all[0].Step is LineStep.Worked ? await commands.ExecuteAll<Saddle>(context, stream.Key, [.. all.Select(Worked)], token)
                    : all[0].Step is LineStep.Gauged
                        ? await commands.ExecuteAll<History.Practices.Practice>(
                            context,
                            stream.Key,
                            [.. all.Select(s => One<History.Practices.Practice>(s, known => ((LineStep.Gauged)s.Step!).Decide(known, by)))],
                            token
                        )
                    : all[0].Step is LineStep.RegisterOne
                        ? await commands.ExecuteAll<Saddle>(
                            context,
                            stream.Key,
                            [.. all.Select(s => One<Saddle>(s, saddle => ((LineStep.RegisterOne)s.Step!).Decide(saddle, by)))],
                            token
                        )
                    : await commands.ExecuteAll<Horse>(
                        context,
                        stream.Key,
                        [
                            .. all.Select(s =>
                                One<Horse>(
                                    s,
                                    horse =>
                                        s.Step is LineStep.Register r ? r.Decide(horse, by) : ((LineStep.Measured)s.Step!).Decide(horse, by)
                                )
                            ),
                        ],
                        token
                    );
                foreach (var (s, outcome) in all.Zip(outcomes))
                {
                    // Repeated: this import had entered the line and was stopped before it wrote that down.
                    var was = made.GetValueOrDefault(s.Line.Number) ?? (outcome.Repeated ? ImportLines.MadeBy(s.Step!) : []);
                    lines.Add(
                        ImportLines.LineFor(
                            import,
                            s.Line,
                            outcome.Refused is not null ? LineVerdict.Refused
                                : was.Count > 0 ? LineVerdict.Enters
                                : LineVerdict.Already,
                            outcome.Refused,
                            was
                        )
                    );
                }

                // The horse is held, so that it is not withdrawn between reading and saving.
                OneOfMany<Saddle> Worked((SheetLine Line, LineStep? Step) s)
                {
                    var (work, horse) = ((LineStep.Worked)s.Step!, default(Horse));
                    return One<Saddle>(s, saddle => work.Decide(saddle, horse, by)) with
                    {
                        Look = async held => horse = await held.Stream<Horse>(work.Work.HorseId),
                    };
                }

                OneOfMany<T> One<T>((SheetLine Line, LineStep? Step) s, Func<T?, (Decided, IReadOnlyList<MadeByImport>)> decide)
                    where T : class, IFolded<T> =>
                    new(
                        $"import:{import.Id}:{s.Line.Number}",
                        "",
                        state =>
                        {
                            var (decided, makes) = decide(state);
                            made[s.Line.Number] = decided.Events.Count > 0 ? makes : [];
                            return decided;
                        }
                    );
            }
        );
        var entered = lines.ToDictionary(l => l.Line);
        foreach (var (line, step) in steps)
        {
            if (step is not LineStep.Beside beside || entered.ContainsKey(line.Number))
                continue;
            var first = entered.GetValueOrDefault(beside.First) ?? done[beside.First];
            entered[line.Number] = ImportLines.LineFor(
                import,
                line,
                first.Verdict,
                first.Verdict == LineVerdict.Refused ? GaugeLines.NotWhole(beside.First) : null,
                first.Made
            );
        }

        return [.. entered.Values];
    }

    /// <summary>Each line is an act of whoever sent the table in; who may bring tables in may do everything that a line does.</summary>
    private static Caller CallerOf(string practice, Import import, DateTimeOffset now) =>
        new(new CommandContext(practice, import.By, $"import:{import.Id}", "", null, now, $"import {import.Id}"), PracticeRole.Manager);

    private async Task<(Reading? Reading, Refused? Refused)> Open(string practice, Import import, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } rules)
            return (null, PracticeRefusals.NoSuchPractice);
        var (sheet, unreadable) = await Table(practice, import, ct);
        if (unreadable is not null)
            return (null, unreadable);
        var (columns, bad) = SheetLine.Columns(sheet!, import.Plan!);
        if (bad is not null)
            return (null, bad);
        var names = await imports.Names(practice, ct);
        var now = time.GetUtcNow();
        var reader = new CellReader(import.Plan!);
        var lines = sheet!.Rows.Select(r => new SheetLine(r, columns!, reader)).ToList();
        var maker = new RowMapper(practice, rules, import, names, now, lines);
        return (new Reading(sheet, columns!, rules, names, lines, maker, now), null);
    }

    /// <summary>As it was read when it was sent in; read again where that is gone.</summary>
    private async Task<(Sheet? Sheet, Refused? Refused)> Table(string practice, Import import, CancellationToken ct)
    {
        if (import.File is not { } file)
            return (null, ImportRefusals.FileGone);
        if (sheets.Find(file, import.Sheet) is { } read)
            return (read, null);
        if (await imports.Bytes(practice, import, ct) is not { } bytes)
            return (null, ImportRefusals.FileGone);
        var (sheet, unreadable) = Sheet.Read(bytes, import.Sheet);
        if (unreadable is not null)
            return (null, SheetLine.Refusing(unreadable));
        sheets.Keep(file, import.Sheet, sheet!);
        return (sheet, null);
    }

    private sealed record Reading(
        Sheet Sheet,
        IReadOnlyDictionary<string, (int Column, string Header)> Columns,
        History.Practices.Practice Rules,
        KnownNames Names,
        IReadOnlyList<SheetLine> Lines,
        RowMapper Maker,
        DateTimeOffset Now
    );
}
