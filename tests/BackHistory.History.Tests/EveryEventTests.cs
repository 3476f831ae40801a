using System.Runtime.CompilerServices;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;

namespace BackHistory.History.Tests;

/// <summary>A new event fails here until the state of its stream has decided about it.</summary>
public sealed class EveryEventTests
{
    public static TheoryData<Type> EventTypes =>
        [
            .. typeof(IHappened)
                .Assembly.GetTypes()
                .Where(t => t is { IsInterface: false, IsAbstract: false } && t.IsAssignableTo(typeof(IHappened))),
        ];

    [Theory]
    [MemberData(nameof(EventTypes))]
    public void Every_event_moves_the_state_that_decides_on_its_stream(Type type)
    {
        Func<object, object?> fold =
            type.IsAssignableTo(typeof(IHorseEvent)) ? e => Horse.After(new Horse(), e)
            : type.IsAssignableTo(typeof(ISaddleEvent)) ? e => Saddle.After(new Saddle(), e)
            : type.IsAssignableTo(typeof(IPracticeEvent)) ? e => Practice.After(new Practice(), e)
            : type.IsAssignableTo(typeof(IDigestEvent)) ? e => Digest.After(new Digest(), e)
            : type.IsAssignableTo(typeof(ISharingEvent)) ? e => HorseSharing.After(new HorseSharing(), e)
            : e => Reminder.After(new Reminder(), e);
        // An event without content is enough: what is asked is whether the fold knows it, not what becomes of it.
        var fault = Record.Exception(() => fold(RuntimeHelpers.GetUninitializedObject(type)));
        Assert.False(fault is UnknownEventException, fault?.Message);
    }
}
