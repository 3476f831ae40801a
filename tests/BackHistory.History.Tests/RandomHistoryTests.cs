using BackHistory.History.Horses;
using BackHistory.Testing;
using CsCheck;

namespace BackHistory.History.Tests;

/// <summary>Commands in any order: what is refused changes nothing, what is accepted keeps the history whole.</summary>
public sealed class RandomHistoryTests
{
    private static readonly Gen<(int What, int Visit, int Entry, int Day)> Step = Gen.Select(
        Gen.Int[0, 13],
        Gen.Int[0, 3],
        Gen.Int[0, 5],
        Gen.Int[-60, 400]
    );

    [Fact]
    public void Commands_in_any_order_keep_what_stands_what_was_withdrawn_and_the_version_of_the_stream() =>
        Step.List[1, 60]
            .Sample(
                steps =>
                {
                    var history = RandomHistory.Play(steps);
                    Horse? state = null;
                    var withdrawn = new HashSet<Guid>();
                    foreach (var e in history)
                    {
                        state = Horse.After(state, e)!;
                        if (e is VisitWithdrawn or VisitMerged)
                            withdrawn.Add(((IVisitEvent)e).VisitId);
                        // A visit that was withdrawn takes nothing more and never stands again.
                        Assert.All(withdrawn, v => Assert.True(state.Visits[v].Withdrawn));
                        if (e is IVisitEntryEvent entered)
                            Assert.DoesNotContain(entered.VisitId, withdrawn);
                    }

                    if (state is null)
                        return;
                    Assert.IsType<HorseRegistered>(history[0]);
                    Assert.Single(history.OfType<HorseRegistered>());
                    // What stands is what was entered and neither corrected nor withdrawn.
                    var gone = history
                        .OfType<EntryCorrected>()
                        .Select(e => e.EntryId)
                        .Concat(history.OfType<EntryWithdrawn>().Select(e => e.EntryId))
                        .ToHashSet();
                    foreach (var (id, visit) in state.Visits)
                        Assert.Equal(
                            history
                                .OfType<IVisitEntryEvent>()
                                .Where(e => e.VisitId == id && !gone.Contains(e.EntryId))
                                .Select(e => e.EntryId)
                                .Order(),
                            visit.Entries.Where(x => x.Value).Select(x => x.Key).Order()
                        );
                },
                iter: 500,
                print: p => string.Join(' ', p)
            );

    [Fact]
    public void A_second_registration_taken_in_adds_exactly_what_stood_of_it() =>
        Gen.Select(Step.List[1, 30], Step.List[1, 30])
            .Sample(
                (one, two) =>
                {
                    var (stays, twice) = (RandomHistory.Play(one, seed: 1), RandomHistory.Play(two, seed: 2));
                    if (stays.Count == 0 || twice.Count == 0)
                        return;
                    var (a, b) = (Fold(stays), Fold(twice));
                    var merged = HorseDecider.Decide(a, new TakeIn(b.Id, "One horse.", Guid.Empty), twice, RandomHistory.Start.AddYears(3));
                    if (merged.Refused is not null)
                    {
                        Assert.True(a.Withdrawn);
                        return;
                    }

                    var after = merged.Events.Aggregate(a, (s, e) => Horse.After(s, e)!);
                    var standing = b.Visits.Where(v => !v.Value.Withdrawn).ToList();
                    Assert.Equal(a.Visits.Keys.Concat(standing.Select(v => v.Key)).Order(), after.Visits.Keys);
                    foreach (var (id, visit) in standing)
                    {
                        Assert.Equal(visit.TakenAt, after.Visits[id].TakenAt);
                        Assert.Equal(
                            visit.Entries.Where(e => e.Value).Select(e => e.Key).Order(),
                            after.Visits[id].Entries.Where(e => e.Value).Select(e => e.Key).Order()
                        );
                    }

                    Assert.Equal(
                        b.Noted.Count(n => n.Value.Stands),
                        after.Noted.Count(n => n.Value.Stands) - a.Noted.Count(n => n.Value.Stands)
                    );
                    // Taken in once, it is in: again nothing follows.
                    Assert.Empty(
                        HorseDecider
                            .Decide(after, new TakeIn(b.Id, "One horse.", Guid.Empty), twice, RandomHistory.Start.AddYears(3))
                            .Events
                    );
                },
                iter: 300
            );

    private static Horse Fold(IReadOnlyList<object> history) => history.Aggregate((Horse?)null, (s, e) => Horse.After(s, e))!;
}
