using BackHistory.Application.Demo;
using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.Service.Demo;
using BackHistory.Store.Practices;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Demo;

/// <summary>
/// The invented practice as a first start fills it, on the day of the test's clock, looked at once by the rules of thumb. Nothing is
/// served.
/// </summary>
public sealed class DemoAnswers : IAsyncLifetime
{
    private PracticeStore _store = null!;

    internal IReadOnlyList<DemoAnswer> Horses { get; private set; } = [];

    public async ValueTask InitializeAsync()
    {
        var time = new FixedTime(TestClock.Running.GetUtcNow());
        var size = new DemoSize();
        var invented = new InventedPractice(size.Seed, size.Horses, ZoneClock.Day(time.Now, TimeZoneInfo.Utc), size.Years);
        _store = await PracticeStore.Open();
        var practices = new PracticeQueries(_store.Store);
        await new InventedStore(_store.Commands, _store.Horses, practices).Take(invented, _ => { }, CancellationToken.None);
        await _store.CatchUp();
        await _store.EvaluationAt(time).Run(InventedStore.Tenant, CancellationToken.None);
        await _store.CatchUp();
        var data = new HorseData(_store.Horses, _store.Reminders, practices, new(_store.Whole), time);
        var told = new List<DemoAnswer>();
        foreach (var horse in invented.Horses)
        {
            var id = horse.Steps().First().Stream;
            var record = await data.Load(InventedStore.Tenant, id, CancellationToken.None);
            var reminders = await _store.Reminders.Newest(InventedStore.Tenant, [], id, null, 50, CancellationToken.None);
            told.Add(new DemoAnswer(horse, record!, reminders));
        }

        Horses = told;
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();
}
