using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;

namespace BackHistory.Testing;

/// <summary>Arranges histories through the deciders, as a hand would: a horse, its visits, its saddle.</summary>
public sealed class TestYard(PracticeStore store, string practice)
{
    private static readonly Guid Fitter = DeterministicId.From("fitter");
    private int _keys;

    public async Task<Guid> Horse(DateTimeOffset at, string name = "Test Horse", Guid? owner = null)
    {
        var id = DeterministicId.From("horse", practice, name);
        var command = new RegisterHorse(
            id,
            new HorseDetails(name, Sex.Mare, new DateOnly(2015, 5, 1), 1600, null, null),
            owner,
            null,
            at,
            Fitter
        );
        await Do<Horse>(id, at, h => HorseDecider.Decide(h, command, at));
        return id;
    }

    public async Task<Guid> Visit(Guid horse, DateTimeOffset at, params VisitEntry[] entries)
    {
        var visit = DeterministicId.From("visit", practice, NextKey());
        var command = new RecordVisit(visit, at, Fitter, new VisitConditions(), "flexible-curve", 1, entries);
        await Do<Horse>(horse, at, h => HorseDecider.Decide(h, command, at));
        return visit;
    }

    /// <summary>A visit with one cross-section at the usual station.</summary>
    public Task<Guid> Visit(Guid horse, DateTimeOffset at, double slopeLeft, double slopeRight) =>
        Visit(horse, at, Section(slopeLeft, slopeRight));

    public TracingEntry Section(double slopeLeft, double slopeRight, string station = "behind-shoulder") =>
        new(DeterministicId.From("entry", practice, NextKey()), Backs.Section(slopeLeft, slopeRight, station));

    public Guid NewEntry() => DeterministicId.From("entry", practice, NextKey());

    public async Task<Guid> Saddle(DateTimeOffset at, string label = "17", string? gauge = null)
    {
        var id = DeterministicId.From("saddle", practice, label);
        await Do<Saddle>(
            id,
            at,
            s => SaddleDecider.Decide(s, new RegisterSaddle(id, new SaddleDetails(label, null, null, null, gauge), null, at, Fitter))
        );
        return id;
    }

    public async Task<Guid> Set(Guid saddle, Guid horse, Guid? visit, DateTimeOffset at)
    {
        var work = DeterministicId.From("work", practice, NextKey());
        var state = await store.Horses.Load(practice, horse, CancellationToken.None);
        await Do<Saddle>(
            saddle,
            at,
            s => SaddleDecider.Decide(s, new RecordWork(work, horse, visit, true, false, [], at, Fitter, OnBoth: true), state, at)
        );
        return work;
    }

    public Task<Outcome> Withdraw(Guid horse, Guid visit, DateTimeOffset at) =>
        Do<Horse>(horse, at, h => HorseDecider.Decide(h, new WithdrawVisit(visit, "Traced another horse.", Fitter), at));

    public async Task<Outcome> Do<T>(Guid stream, DateTimeOffset at, Func<T?, Decided> decide)
        where T : class, BackHistory.History.IFolded<T>
    {
        var outcome = await store.Commands.Execute(PracticeStore.Context(practice, NextKey(), at), stream, decide, CancellationToken.None);
        return outcome.Refused is null
            ? outcome
            : throw new InvalidOperationException($"refused: {outcome.Refused.Code}: {outcome.Refused.Message}");
    }

    private string NextKey() => $"key-{++_keys}";
}
