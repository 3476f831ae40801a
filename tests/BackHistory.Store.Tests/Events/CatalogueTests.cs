using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.History.Timeline;
using BackHistory.Store.Events;
using BackHistory.Store.Projections;
using JasperFx.Events;

namespace BackHistory.Store.Tests.Events;

public sealed class CatalogueTests
{
    private static readonly Type[] Events =
    [
        .. typeof(IHappened)
            .Assembly.GetTypes()
            .Where(t => t is { IsInterface: false, IsAbstract: false } && t.IsAssignableTo(typeof(IHappened))),
    ];

    public static TheoryData<Type> EventTypes => [.. Events];

    [Fact]
    public void Every_event_has_an_alias_and_no_two_share_one()
    {
        Assert.Equal(Events.Order(ByName), EventAliases.All.Keys.Order(ByName));
        Assert.Equal(EventAliases.All.Count, EventAliases.All.Values.Distinct(StringComparer.Ordinal).Count());
    }

    [Theory]
    [MemberData(nameof(EventTypes))]
    public void Every_event_that_touches_a_horse_stands_on_its_timeline(Type type)
    {
        // Who may look is listed with the horse's sharing and in the audit, not among what happened to its back.
        if (type.IsAssignableTo(typeof(ISharingEvent)))
            return;
        if (
            type.IsAssignableTo(typeof(IPracticeEvent))
            || type.IsAssignableTo(typeof(IDigestEvent))
            || (type.IsAssignableTo(typeof(ISaddleEvent)) && !type.IsAssignableTo(typeof(ISaddleOnHorse)))
        )
            return;
        var e = Wrap(Samples.Of(type));
        var entry = TimelineProjection.Of(e.Id, e);
        Assert.NotNull(entry);
        Assert.NotEqual(TimelineFactKind.NotPutIntoWords, entry.Fact.Kind);
        Assert.NotEqual(Guid.Empty, entry.HorseId);
    }

    [Theory]
    [MemberData(nameof(EventTypes))]
    public void Every_event_survives_the_store_bytes_unchanged(Type type)
    {
        var options = StoredJson.Options();
        var once = System.Text.Json.JsonSerializer.Serialize(Samples.Of(type), type, options);
        var back = System.Text.Json.JsonSerializer.Deserialize(once, type, options);
        Assert.Equal(once, System.Text.Json.JsonSerializer.Serialize(back, type, options));
    }

    private static readonly Comparer<Type> ByName = Comparer<Type>.Create((a, b) => string.CompareOrdinal(a.FullName, b.FullName));

    private static IEvent Wrap(object data)
    {
        var e = (IEvent)Activator.CreateInstance(typeof(Event<>).MakeGenericType(data.GetType()), data)!;
        e.StreamId = DeterministicId.Of("stream");
        e.Id = DeterministicId.Of("event");
        return e;
    }
}
