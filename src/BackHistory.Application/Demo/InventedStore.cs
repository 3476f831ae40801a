using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Demo;

/// <summary>
/// Takes an invented practice into a store, through the same commands as a user's. Interrupted, it goes on where it stopped: every step has
/// its own key.
/// </summary>
public sealed class InventedStore(Commands commands, HorseQueries horses, PracticeQueries practices)
{
    /// <summary>The tenant of the invented practice.</summary>
    public const string Tenant = "invented";

    /// <summary>Horses that are written at once.</summary>
    private const int Together = 4;

    /// <param name="written">Told after each horse how many are there.</param>
    /// <exception cref="InvalidOperationException">A command was refused: what was invented contradicts itself.</exception>
    public async Task Take(InventedPractice invented, Action<int> written, CancellationToken ct)
    {
        var founded = new DateTimeOffset(invented.Start.AddDays(-1).ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
        var id = DeterministicId.From("practice", Tenant);
        await commands.Execute<History.Practices.Practice>(
            Context("practice", founded),
            id,
            p =>
                p is null
                    ? PracticeDecider.Decide(
                        p,
                        new FoundPractice(id, InventedPractice.Name, InventedPractice.TimeZone, true, invented.Manager.Id),
                        founded
                    )
                    : Decided.Yes(),
            ct
        );
        await commands.Execute<History.Practices.Practice>(
            Context("gauge", founded),
            id,
            p => PracticeDecider.Decide(p, InventedPractice.Bench(invented.Manager.Id), founded),
            ct
        );
        await practices.Save(Tenant, invented.Documents, ct);
        var done = 0;
        var together = new ParallelOptions { MaxDegreeOfParallelism = Together, CancellationToken = ct };
        await Parallel.ForEachAsync(
            invented.Horses.Index(),
            together,
            async (horse, token) =>
            {
                foreach (var (number, step) in horse.Item.Steps().Index())
                    await Take(step, string.Create(CultureInfo.InvariantCulture, $"invented:{horse.Index}:{number}"), token);
                written(Interlocked.Increment(ref done));
            }
        );
    }

    private async Task Take(InventedStep step, string key, CancellationToken ct)
    {
        var context = Context(key, step.At);
        var outcome = step.Command switch
        {
            InventedCommand.OfHorse c => await commands.Execute<Horse>(context, step.Stream, h => c.Decide(h, step.At), ct),
            InventedCommand.OfSaddle c => await OfSaddle(c, context, step, ct),
            _ => throw new ArgumentException($"no way to give {step.Command.GetType().Name}", nameof(step)),
        };
        if (outcome.Refused is { } refused)
            throw new InvalidOperationException(
                $"{key}: the invented practice gave a command that is refused: {refused.Code}: {refused.Message}"
            );
    }

    private async Task<Outcome> OfSaddle(InventedCommand.OfSaddle c, CommandContext context, InventedStep step, CancellationToken ct)
    {
        var horse = await horses.Load(Tenant, c.HorseId, ct);
        return await commands.Execute<Saddle>(context, step.Stream, s => c.Decide(s, horse, step.At), ct);
    }

    private static CommandContext Context(string key, DateTimeOffset at) =>
        new(Tenant, DeterministicId.From("invention"), key, "", null, at);
}
