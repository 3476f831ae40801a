using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Saddles;
using BackHistory.Testing;

namespace BackHistory.Store.Tests;

/// <summary>Lists of names stand in the order in which people look for them, also across the places at which they are paged.</summary>
public sealed class NameOrderTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private static readonly string[] Entered = ["Zorn", "Äpfel", "öre", "apfel", "Ofen", "Apfel", "Éclair", "Eber"];

    /// <summary>As CLDR's root order has them: Ä beside A, small before capital where nothing else differs.</summary>
    private static readonly string[] Looked = ["apfel", "Apfel", "Äpfel", "Eber", "Éclair", "Ofen", "öre", "Zorn"];

    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task Horses_stand_with_Ä_beside_A_and_each_once_however_small_the_pages_are()
    {
        var yard = new TestYard(_store, Practice);
        foreach (var name in Entered)
            await yard.Horse(June, name);
        await _store.CatchUp();
        Assert.Equal(
            Looked,
            await Paged(async (after, size) => [.. (await _store.Horses.ByName(Practice, after, size, Ct)).Select(h => (h.Name, h.Id))])
        );
        var (rows, place) = (new List<string>(), default(CaseloadPlace));
        do
        {
            var page = await _store
                .Get<Caseload>()
                .Page(Practice, new CaseloadFilter([], null, null, null, CaseloadOrder.Name), place, 3, Ct);
            rows.AddRange(page.Rows.Select(r => r.Horse.Name));
            place = page.Next;
        } while (place is not null);
        Assert.Equal(Looked, rows);
        Assert.Equal(["apfel", "Apfel"], (await _store.Get<Find>().Horses(Practice, "apfel", Ct)).Select(f => f.Title));
    }

    [Fact]
    public async Task People_and_yards_stand_with_Ä_beside_A()
    {
        var practices = _store.Get<PracticeQueries>();
        foreach (var name in Entered)
        {
            await practices.Add(
                Practice,
                new Person(DeterministicId.From("person", name), name, null, "01234", null, PersonRole.Owner),
                Ct
            );
            await practices.Add(Practice, new Yard(DeterministicId.From("yard", name), name, null), Ct);
        }

        Assert.Equal(
            Looked,
            await Paged(async (after, size) => [.. (await practices.PeopleByName(Practice, after, size, Ct)).Select(p => (p.Name, p.Id))])
        );
        Assert.Equal(
            Looked,
            await Paged(
                async (after, size) => [.. (await practices.PeopleWith(Practice, "0123", after, size, Ct)).Select(p => (p.Name, p.Id))]
            )
        );
        Assert.Equal(["apfel", "Apfel", "Äpfel"], (await practices.PeopleWith(Practice, "PF", null, 9, Ct)).Select(p => p.Name));
        Assert.Empty(await practices.PeopleWith(Practice, "%", null, 9, Ct));
        Assert.Equal(Looked, (await practices.InRole(Practice, PersonRole.Owner, Ct)).Select(p => p.Name));
        Assert.Equal(Looked, (await practices.Yards(Practice, Ct)).Select(y => y.Name));
    }

    [Fact]
    public async Task Saddles_stand_with_Ä_beside_A_in_both_of_their_lists()
    {
        var yard = new TestYard(_store, Practice);
        foreach (var label in Entered)
            await yard.Saddle(June, label);
        var saddles = _store.Saddles;
        Assert.Equal(
            Looked,
            await Paged(async (after, size) => [.. (await saddles.ByLabel(Practice, after, size, Ct)).Select(s => (s.Label, s.Id))])
        );
        Assert.Equal(
            Looked,
            await Paged(
                async (after, size) =>
                    [.. (await saddles.Found(Practice, "", SaddlePlace.Anywhere, after, size, Ct)).Select(s => (s.Label, s.Id))]
            )
        );
    }

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private static async Task<IReadOnlyList<string>> Paged(Func<(string, Guid)?, int, Task<IReadOnlyList<(string Name, Guid Id)>>> page)
    {
        var (names, after) = (new List<string>(), default((string, Guid)?));
        while (true)
        {
            var some = await page(after, 3);
            names.AddRange(some.Select(s => s.Name));
            if (some.Count < 3)
                return names;
            after = some[^1];
        }
    }
}
