using BackHistory.Application.Horses;
using BackHistory.Application.Saddles;
using BackHistory.Application.Visits;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Imports;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Imports;

/// <summary>Takes an import back as one act: everything that it made is withdrawn with the import as the reason; what it found
/// stays.</summary>
public sealed class ImportRollback(
    ImportStore imports,
    AccountDocuments accounts,
    PracticeQueries practices,
    Commands commands,
    TimeProvider time
)
{
    /// <summary>Interrupted and begun again it goes on.</summary>
    public async Task Run(string practice, Guid importId, CancellationToken ct)
    {
        if (await imports.Load(practice, importId, ct) is not { State: ImportState.ImportRollback } import)
            return;
        var lines = await imports.Lines(practice, importId, LineVerdict.Enters, 0, int.MaxValue, ct);
        // Visits before horses, horses before the people whom they name: the last in first out.
        foreach (var chunk in lines.Where(l => !l.TakenBack && l.StaysBecause is null).OrderByDescending(l => l.Line).Chunk(200))
        {
            var changed = new List<ImportLine>();
            foreach (var line in chunk)
            {
                var stays = await Back(practice, import, line, ct);
                changed.Add(line with { TakenBack = stays is null, StaysBecause = stays });
            }

            var (gone, kept) = (changed.Count(l => l.TakenBack), changed.Count(l => !l.TakenBack));
            import = import with
            {
                TakenBack = import.TakenBack with { Entered = import.TakenBack.Entered + gone, Already = import.TakenBack.Already + kept },
            };
            if (!await imports.Save(practice, import, changed, [], ct))
                return;
        }

        await imports.Forget(practice, import, ImportState.TakenBack, ct);
    }

    /// <summary>People and yards are looked for in every history, so of a long table only the beginning is looked at.</summary>
    private const int MostLooked = 200;

    /// <summary>What would go and what would stay; nothing is taken back.</summary>
    /// <returns>Null where there is no such import.</returns>
    public async Task<ImportForecast?> Foresee(string practice, Guid importId, CancellationToken ct)
    {
        if (await imports.Load(practice, importId, ct) is not { } import)
            return null;
        var lines = await imports.Lines(practice, importId, LineVerdict.Enters, 0, int.MaxValue, ct);
        var open = lines.Where(l => !l.TakenBack).OrderByDescending(l => l.Line).ToList();
        var looked = open.Any(l => l.Made.Any(m => m.As is MadeAs.Person or MadeAs.Yard)) ? open.Take(MostLooked).ToList() : open;
        var goes = new Dictionary<MadeAs, int>();
        var stays = new List<ImportForecast.Kept>();
        // The lines of one gauge made one thing together.
        var counted = new HashSet<MadeByImport>();
        foreach (var line in looked.Where(l => !l.Made.Any(m => m.As == MadeAs.Gauge) || l.Made.All(counted.Add)))
        {
            var (going, why) = await Foresee(practice, import, line, ct);
            if (why is not null)
                stays.Add(new ImportForecast.Kept(line.Line, line.Who, why));
            foreach (var made in going)
                goes[made] = goes.GetValueOrDefault(made) + 1;
        }

        return new ImportForecast(goes, [.. stays.OrderBy(s => s.Line)], looked.Count, open.Count);
    }

    /// <returns>What of a line would go, and why it stays; what is gone already does neither.</returns>
    private async Task<(IReadOnlyList<MadeAs> Going, string? Stays)> Foresee(
        string practice,
        Import import,
        ImportLine line,
        CancellationToken ct
    )
    {
        var going = new List<MadeAs>();
        foreach (var made in line.Made)
        {
            var (goes, why) = await Foresee(practice, import, line, made, ct);
            if (why is not null)
                return ([], why);
            if (goes)
                going.Add(made.As);
        }

        return (going, null);
    }

    private async Task<(bool Goes, string? Stays)> Foresee(
        string practice,
        Import import,
        ImportLine line,
        MadeByImport made,
        CancellationToken ct
    )
    {
        if (made.As is MadeAs.Person or MadeAs.Yard)
        {
            if (!await imports.IsThere(practice, made, ct))
                return (false, null);
            var signsIn = made.As == MadeAs.Person && await accounts.RoleOf(practice, made.Id, ct) is not null;
            var why = signsIn ? SignsIn : await imports.WhyItStays(practice, made.Id, ct);
            return (why is null, why);
        }

        var (reason, by) = (Reason(import), By(practice, import, line, made));
        var decided =
            made.As == MadeAs.Gauge ? (await OfGauges(practice, reason, by, ct))(await practices.Load(practice, ct), made)
            : made.As is MadeAs.Saddle or MadeAs.Work ? OfSaddle(await imports.Saddle(practice, made.Stream, ct), made, reason, by)
            : OfHorse(await imports.Horse(practice, made.Stream, ct), made, reason, by);
        return (decided.Events.Count > 0, decided.Refused?.Message);
    }

    private const string SignsIn = "This person signs in to the practice. Take them out of it first.";

    private static string Reason(Import import) => $"The import of '{import.Name}' was taken back.";

    private Caller By(string practice, Import import, ImportLine line, MadeByImport made) =>
        new(
            new CommandContext(
                practice,
                import.By,
                // What several lines made together is taken back once.
                $"taken back:{(made.As == MadeAs.Gauge ? import.Id : line.Id)}:{made.Id}",
                "",
                null,
                time.GetUtcNow(),
                $"import {import.Id}"
            ),
            PracticeRole.Manager
        );

    /// <returns>Why something of it stays, or null.</returns>
    private async Task<string?> Back(string practice, Import import, ImportLine line, CancellationToken ct)
    {
        var reason = Reason(import);
        foreach (var made in line.Made)
        {
            if (made.As is MadeAs.Person or MadeAs.Yard)
            {
                if (made.As == MadeAs.Person && await accounts.RoleOf(practice, made.Id, ct) is not null)
                    return SignsIn;
                if (await imports.Remove(practice, made, ct) is { } named)
                    return named;
                continue;
            }

            var by = By(practice, import, line, made);
            var context = by.Context;
            var gauges = made.As == MadeAs.Gauge ? await OfGauges(practice, reason, by, ct) : null;
            var outcome =
                gauges is not null ? await commands.Execute<History.Practices.Practice>(context, made.Stream, p => gauges(p, made), ct)
                : made.As is MadeAs.Saddle or MadeAs.Work
                    ? await commands.Execute<Saddle>(context, made.Stream, s => OfSaddle(s, made, reason, by), ct)
                : await commands.Execute<Horse>(context, made.Stream, h => OfHorse(h, made, reason, by), ct);
            if (outcome.Refused is { } refused)
                return refused.Message;
        }

        return null;
    }

    private async Task<Func<History.Practices.Practice?, MadeByImport, Decided>> OfGauges(
        string practice,
        string reason,
        Caller by,
        CancellationToken ct
    )
    {
        var (versions, read) = (await practices.GaugeVersions(practice, ct), await imports.GaugesOfSaddles(practice, ct));
        return (known, made) => ImportedGauge.TakeBack(known, made, versions, read, reason, by);
    }

    private static Decided OfSaddle(Saddle? saddle, MadeByImport made, string reason, Caller by) =>
        saddle is null or { Withdrawn: true } ? Decided.Yes()
        : made.As == MadeAs.Saddle ? WithdrawSaddleRegistration.Decide(saddle, new(made.Stream, reason), by)
        : saddle.Work.Any(w => w.WorkId == made.Id && !w.Withdrawn)
            ? WithdrawSaddleWork.Decide(saddle, new(made.Stream, made.Id, reason), by)
        : Decided.Yes();

    private static Decided OfHorse(Horse? horse, MadeByImport made, string reason, Caller by)
    {
        if (horse is null or { Withdrawn: true })
            return Decided.Yes();
        return made.As switch
        {
            MadeAs.Horse when horse.Visits.Values.Any(v => !v.Withdrawn) => Decided.No(
                "has-visits",
                "Visits to this horse stand. Take those back first.",
                RefusalKind.Conflict
            ),
            MadeAs.Horse => WithdrawHorseRegistration.Decide(horse, new(made.Stream, reason), by),
            MadeAs.Visit => horse.Visits.TryGetValue(made.Id, out var visit) && !visit.Withdrawn
                ? WithdrawWholeVisit.Decide(horse, new(made.Stream, made.Id, reason), by)
                : Decided.Yes(),
            _ => horse.Visits.FirstOrDefault(v => v.Value.Entries.GetValueOrDefault(made.Id)) is { Value: { Withdrawn: false } } entered
                ? WithdrawOneEntry.Decide(horse, new(made.Stream, entered.Key, made.Id, reason), by)
                : Decided.Yes(),
        };
    }
}
