using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Audit;
using BackHistory.Store.Events;
using BackHistory.Store.Horses;
using BackHistory.Store.Projections;
using JasperFx.Events;

namespace BackHistory.Store.Tests.Projections;

/// <summary>
/// Every read model and every process over events says which events it takes and which it leaves. A new event stands in neither list: each
/// test here fails until somebody has decided what it means for that fold.
/// </summary>
public sealed class ClosedFoldTests
{
    private static readonly Type[] OfHorse =
    [
        typeof(HorseRegistered),
        typeof(HorseDetailsCorrected),
        typeof(HorseWithdrawn),
        typeof(HorseRestored),
        typeof(HorseMerged),
        typeof(HorseMergedAway),
        typeof(OwnerChanged),
        typeof(YardChanged),
        typeof(CareRoleTaken),
        typeof(CareRoleEnded),
        typeof(WorkChanged),
        typeof(WorkWithdrawn),
        typeof(CareNoted),
        typeof(CareEnded),
        typeof(CareCorrected),
        typeof(CareWithdrawn),
        typeof(HorseFileAttached),
        typeof(HorseFileRemoved),
    ];

    /// <summary>A visit itself, its entries taken back, its confirmation.</summary>
    private static readonly Type[] OfVisit =
    [
        typeof(VisitRecorded),
        typeof(VisitCorrected),
        typeof(VisitWithdrawn),
        typeof(VisitMerged),
        typeof(EntryCorrected),
        typeof(EntryWithdrawn),
        typeof(ConfirmationAsked),
        typeof(VisitConfirmed),
    ];

    private static readonly Type[] OfEntry =
    [
        typeof(CrossSectionTraced),
        typeof(ToplineTraced),
        typeof(ReadingTaken),
        typeof(ConditionScored),
        typeof(MuscleScored),
        typeof(Weighed),
        typeof(GirthTaped),
        typeof(VisitNoted),
        typeof(HeightMeasured),
    ];

    private static readonly Type[] OfSaddleOnHorse =
    [
        typeof(SaddleSet),
        typeof(SaddleAltered),
        typeof(SaddleFlocked),
        typeof(SaddleWorkCorrected),
        typeof(SaddleWorkWithdrawn),
        typeof(SaddleTakenOff),
        typeof(SaddleMoved),
        typeof(SaddleTrialBegun),
        typeof(SaddleTrialEnded),
        typeof(PadFitted),
        typeof(PadRemoved),
    ];

    private static readonly Type[] OfSaddleAlone =
    [
        typeof(SaddleRegistered),
        typeof(SaddleDetailsCorrected),
        typeof(SaddleWithdrawn),
        typeof(SaddleOwnerChanged),
        typeof(SaddlePartsListed),
        typeof(SaddleFileAttached),
        typeof(SaddleFileRemoved),
    ];

    private static readonly Type[] OfPractice =
    [
        typeof(PracticeFounded),
        typeof(DisplayUnitsChosen),
        typeof(PracticeDetailsCorrected),
        typeof(WatchRulesChanged),
        typeof(PriorsLearned),
        typeof(ProtocolChanged),
        typeof(ReminderRulesChanged),
        typeof(LetterTemplateChanged),
        typeof(LettersReleased),
        typeof(GaugeTableChanged),
        typeof(GaugeTableRetired),
        typeof(RepeatabilityStudied),
        typeof(NoiseLearned),
        typeof(RepeatabilityStudyBegun),
        typeof(RepeatedVisitCounted),
        typeof(RepeatabilityStudyFinished),
        typeof(RepeatabilityStudyWithdrawn),
        typeof(PersonErased),
    ];

    private static readonly Type[] OfReminder =
    [
        typeof(ReminderRaised),
        typeof(LetterOwed),
        typeof(LetterSent),
        typeof(LetterBounced),
        typeof(LetterGivenUp),
        typeof(LetterDeferred),
        typeof(LetterDelayed),
        typeof(LetterDelivered),
        typeof(ReminderOpened),
        typeof(ReminderMuted),
        typeof(ReminderUnmuted),
        typeof(ReminderResumed),
        typeof(ReminderAnswered),
        typeof(ReminderPutOff),
        typeof(VisitBooked),
        typeof(BookingCancelled),
        typeof(BookingPassed),
        typeof(ReminderResolved),
        typeof(ReminderClosed),
        typeof(VetCleared),
        typeof(ReminderWithdrawn),
    ];

    private static readonly Type[] OfDigest = [typeof(DigestOwed), typeof(DigestSent), typeof(DigestGivenUp), typeof(DigestNoted)];

    private static readonly Type[] OfSharing =
    [
        typeof(AccessGranted),
        typeof(AccessRevoked),
        typeof(LinkMade),
        typeof(LinkBound),
        typeof(LinkRevoked),
        typeof(Commented),
        typeof(SharingMerged),
        typeof(SharingMergedAway),
    ];

    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);

    /// <summary>Of a second registration: details, owner and yard are those of the one that stays.</summary>
    private static readonly Type[] Kept =
    [
        typeof(HorseRegistered),
        typeof(HorseDetailsCorrected),
        typeof(HorseWithdrawn),
        typeof(HorseRestored),
        typeof(HorseMergedAway),
        typeof(OwnerChanged),
        typeof(YardChanged),
    ];

    private static Guid Id { get; } = DeterministicId.From("stream");

    /// <summary>As the samples name it.</summary>
    private static Guid HorseId { get; } = DeterministicId.From("HorseId");

    private static Reminder Raised { get; } = Reminder.After(null, Samples.Of(typeof(ReminderRaised)))!;

    /// <param name="Takes">Something follows from these.</param>
    /// <param name="Leaves">These come by, or are never offered, and nothing follows from them.</param>
    /// <param name="Offered">Whether an event reaches this fold at all.</param>
    /// <param name="After">What it says after the event; null or the same as before where nothing follows.</param>
    /// <param name="ByStream">It asks only of whose stream an event is: it knows a new one of a known stream.</param>
    private sealed record Fold(
        Type[] Takes,
        Type[] Leaves,
        Func<Type, bool> Offered,
        Func<IEvent, object?> After,
        object? Before = null,
        bool ByStream = false
    );

    private static readonly Dictionary<string, Fold> Folds = new(StringComparer.Ordinal)
    {
        // The states on which decisions rest.
        [nameof(Horse)] = State<IHorseEvent>(e => Horse.After(new Horse(), e), [.. OfHorse, .. OfVisit, .. OfEntry]),
        [nameof(Saddle)] = State<ISaddleEvent>(e => Saddle.After(new Saddle(), e), [.. OfSaddleOnHorse, .. OfSaddleAlone]),
        [nameof(Practice)] = State<IPracticeEvent>(e => Practice.After(new Practice(), e), OfPractice),
        [nameof(Reminder)] = State<IReminderEvent>(e => Reminder.After(new Reminder(), e), OfReminder),
        [nameof(Digest)] = State<IDigestEvent>(e => Digest.After(new Digest(), e), OfDigest),
        [nameof(HorseSharing)] = State<ISharingEvent>(e => HorseSharing.After(new HorseSharing(), e), OfSharing),

        // What people read.
        [nameof(HorseProfile)] = new(
            [
                .. OfHorse.Except([typeof(HorseMerged)]),
                typeof(VisitRecorded),
                typeof(VisitCorrected),
                typeof(VisitWithdrawn),
                typeof(VisitMerged),
                .. OfSaddleOnHorse,
                typeof(ReminderRaised),
                typeof(LetterSent),
                typeof(ReminderOpened),
                typeof(ReminderMuted),
                typeof(ReminderUnmuted),
                typeof(ReminderResumed),
                typeof(ReminderPutOff),
                typeof(VisitBooked),
                typeof(BookingCancelled),
                typeof(BookingPassed),
                typeof(ReminderResolved),
                typeof(ReminderClosed),
                typeof(VetCleared),
                typeof(ReminderWithdrawn),
            ],
            [
                typeof(HorseMerged),
                typeof(EntryCorrected),
                typeof(EntryWithdrawn),
                typeof(ConfirmationAsked),
                typeof(VisitConfirmed),
                .. OfEntry,
                typeof(LetterOwed),
                typeof(LetterDeferred),
                typeof(LetterDelayed),
                typeof(LetterDelivered),
                typeof(LetterBounced),
                typeof(LetterGivenUp),
                typeof(ReminderAnswered),
                .. OfSaddleAlone,
                .. OfPractice,
                .. OfDigest,
                .. OfSharing,
            ],
            t => Is<IHorseEvent>(t) || Is<ISaddleOnHorse>(t) || Is<IReminderEvent>(t),
            e => Content(HorseProfileProjection.Fold(new HorseProfile { Id = Id }, Id, e)),
            Content(new HorseProfile { Id = Id })
        ),
        [nameof(VisitRecord)] = new(
            [.. OfVisit, .. OfEntry],
            [.. OfHorse, .. OfSaddleOnHorse, .. OfSaddleAlone, .. OfPractice, .. OfReminder, .. OfDigest, .. OfSharing],
            Is<IVisitEvent>,
            e => VisitRecordProjection.Fold(new VisitRecord(), e)
        ),
        ["Timeline"] = new(
            [.. OfHorse, .. OfVisit, .. OfEntry, .. OfSaddleOnHorse, .. OfReminder],
            [.. OfSaddleAlone, .. OfPractice, .. OfDigest, .. OfSharing],
            Is<IHappened>,
            e => TimelineProjection.EntryFor(e.Id, e)
        ),
        [nameof(Letter)] = new(
            [
                typeof(LetterOwed),
                typeof(LetterSent),
                typeof(LetterBounced),
                typeof(LetterGivenUp),
                typeof(LetterDeferred),
                typeof(LetterDelayed),
                typeof(LetterDelivered),
                .. OfDigest,
            ],
            [
                .. OfHorse,
                .. OfVisit,
                .. OfEntry,
                .. OfSaddleOnHorse,
                .. OfSaddleAlone,
                .. OfPractice,
                typeof(ReminderRaised),
                typeof(ReminderOpened),
                typeof(ReminderMuted),
                typeof(ReminderUnmuted),
                typeof(ReminderResumed),
                typeof(ReminderAnswered),
                typeof(ReminderPutOff),
                typeof(VisitBooked),
                typeof(BookingCancelled),
                typeof(BookingPassed),
                typeof(ReminderResolved),
                typeof(ReminderClosed),
                typeof(VetCleared),
                typeof(ReminderWithdrawn),
                .. OfSharing,
            ],
            t => Is<IDigestEvent>(t) || t.GetProperty("LetterId") is not null,
            e => new LetterProjection().Evolve(new Letter(), Id, e)
        ),
        [nameof(PracticeMonth)] = new(
            [
                .. OfHorse,
                .. OfVisit,
                .. OfEntry,
                .. OfSaddleOnHorse,
                .. OfSaddleAlone,
                .. OfPractice,
                .. OfReminder,
                .. OfDigest,
                .. OfSharing,
            ],
            [],
            Is<IHappened>,
            e => new PracticeMonthProjection().Evolve(null, "2026-06", e)
        ),

        // What looks at every event of a practice.
        ["whether it concerns a horse"] = new(
            [.. OfHorse, .. OfVisit, .. OfEntry, .. OfSaddleOnHorse, .. OfReminder],
            [.. OfSaddleAlone, .. OfPractice, .. OfDigest, .. OfSharing],
            Is<IHappened>,
            e => PastQueries.Concerns(e.Data, HorseId, HorseId) ? e : null,
            ByStream: true
        ),
        ["what the audit shows of a horse"] = new(
            [.. OfHorse, .. OfVisit, .. OfEntry, .. OfReminder, .. OfSharing],
            [.. OfSaddleOnHorse, .. OfSaddleAlone, .. OfPractice, .. OfDigest],
            Is<IHappened>,
            e => AuditBook.HorseOf(e),
            ByStream: true
        ),
        ["what is worked out before it is recorded"] = new(
            [.. OfHorse, .. OfVisit, .. OfEntry, .. OfSaddleOnHorse, .. OfReminder],
            [.. OfSaddleAlone, .. OfPractice, .. OfDigest, .. OfSharing],
            Is<IHappened>,
            e => Consequences.HorseOf(e),
            ByStream: true
        ),

        // What carries events over, and what tries rules.
        ["a second registration that is merged"] = new(
            [.. OfHorse.Except(Kept), .. OfVisit, .. OfEntry],
            [.. Kept, .. OfSaddleOnHorse, .. OfSaddleAlone, .. OfPractice, .. OfReminder, .. OfDigest, .. OfSharing],
            Is<IHorseEvent>,
            e => HorseMerge.Standing([e.Data], new Horse()).Count > 0 ? e : null
        ),
        ["sharing that is merged"] = new(
            [.. OfSharing.Except([typeof(SharingMergedAway)])],
            [
                typeof(SharingMergedAway),
                .. OfHorse,
                .. OfVisit,
                .. OfEntry,
                .. OfSaddleOnHorse,
                .. OfSaddleAlone,
                .. OfPractice,
                .. OfReminder,
                .. OfDigest,
            ],
            Is<ISharingEvent>,
            e => SharingDecider.Decide(null, new TakeInSharing(Id, HorseId, Id), [e.Data], June).Events.Count > 1 ? e : null
        ),
        ["rules that are tried"] = new(
            [
                typeof(ReminderRaised),
                typeof(ReminderOpened),
                typeof(ReminderMuted),
                typeof(ReminderUnmuted),
                typeof(ReminderResumed),
                typeof(ReminderResolved),
                typeof(ReminderWithdrawn),
            ],
            [
                typeof(LetterOwed),
                typeof(LetterSent),
                typeof(LetterBounced),
                typeof(LetterGivenUp),
                typeof(LetterDeferred),
                typeof(LetterDelayed),
                typeof(LetterDelivered),
                typeof(ReminderAnswered),
                typeof(ReminderPutOff),
                typeof(VisitBooked),
                typeof(BookingCancelled),
                typeof(BookingPassed),
                typeof(ReminderClosed),
                typeof(VetCleared),
                .. OfHorse,
                .. OfVisit,
                .. OfEntry,
                .. OfSaddleOnHorse,
                .. OfSaddleAlone,
                .. OfPractice,
                .. OfDigest,
                .. OfSharing,
            ],
            Is<IReminderEvent>,
            e => RuleSimulation.After(Raised, e.Data, June),
            Raised
        ),
    };

    public static TheoryData<string> Names => [.. Folds.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Somebody_has_decided_of_every_event_whether_this_fold_takes_it_or_leaves_it(string name)
    {
        var fold = Folds[name];
        Assert.Empty(fold.Takes.Intersect(fold.Leaves));
        Assert.Equal(EventAliases.All.Keys.Select(t => t.Name).Order(), fold.Takes.Concat(fold.Leaves).Select(t => t.Name).Order());
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void It_knows_what_it_takes_and_nothing_follows_from_what_it_leaves(string name)
    {
        var fold = Folds[name];
        Assert.All(fold.Takes, t => Assert.True(fold.Offered(t), $"{t.Name} never reaches it"));
        foreach (var type in fold.Takes)
            _ = fold.After(Event(type));
        foreach (var type in fold.Leaves.Where(fold.Offered))
            Assert.True(Equals(fold.Before, fold.After(Event(type))), $"something follows from {type.Name}");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void An_event_that_nobody_decided_about_stops_it(string name)
    {
        var fold = Folds[name];
        object unheard = fold.ByStream ? new UnheardOfNothing(June, Id) : Unheard(fold.Takes[0]);
        Assert.Throws<UnknownEventException>(() => fold.After(Wrap(unheard)));
    }

    private static Fold State<TEvent>(Func<object, object?> after, Type[] takes) =>
        new(takes, [.. EveryFamily.Except(takes)], Is<TEvent>, e => after(e.Data));

    private static Type[] EveryFamily =>
        [.. OfHorse, .. OfVisit, .. OfEntry, .. OfSaddleOnHorse, .. OfSaddleAlone, .. OfPractice, .. OfReminder, .. OfDigest, .. OfSharing];

    private static bool Is<T>(Type type) => type.IsAssignableTo(typeof(T));

    /// <summary>Without how far it has read.</summary>
    private static string Content(HorseProfile? profile)
    {
        var json = JsonSerializer.SerializeToNode(profile, StoredJson.Options())!.AsObject();
        foreach (var place in json.Select(p => p.Key).Where(IsPlace).ToList())
            json.Remove(place);
        return json.ToJsonString();
    }

    private static bool IsPlace(string key) =>
        new[]
        {
            nameof(HorseProfile.Head),
            nameof(HorseProfile.RecordedAt),
            nameof(HorseProfile.StreamVersion),
            nameof(HorseProfile.LastCorrection),
        }.Contains(key, StringComparer.OrdinalIgnoreCase);

    private static IEvent Event(Type type) => Wrap(Samples.Of(type));

    /// <summary>An event of a newer release, of the same stream as one that is known.</summary>
    private static object Unheard(Type known) =>
        Is<IVisitEvent>(known) ? new UnheardOfVisit(Id, June, Id)
        : Is<IHorseEvent>(known) ? new UnheardOfHorse(June, Id)
        : Is<ISaddleEvent>(known) ? new UnheardOfSaddle(June, Id)
        : Is<IPracticeEvent>(known) ? new UnheardOfPractice(June, Id)
        : Is<IDigestEvent>(known) ? new UnheardOfDigest(Id, June, Id)
        : Is<ISharingEvent>(known) ? new UnheardOfSharing(Id, June, Id)
        : new UnheardOfReminder(Id, June, Id);

    private sealed record UnheardOfNothing(DateTimeOffset TakenAt, Guid By) : IHappened;

    private sealed record UnheardOfHorse(DateTimeOffset TakenAt, Guid By) : IHorseEvent;

    private sealed record UnheardOfVisit(Guid VisitId, DateTimeOffset TakenAt, Guid By) : IVisitEvent;

    private sealed record UnheardOfSaddle(DateTimeOffset TakenAt, Guid By) : ISaddleEvent;

    private sealed record UnheardOfPractice(DateTimeOffset TakenAt, Guid By) : IPracticeEvent;

    private sealed record UnheardOfDigest(Guid DigestId, DateTimeOffset TakenAt, Guid By) : IDigestEvent;

    private sealed record UnheardOfSharing(Guid HorseId, DateTimeOffset TakenAt, Guid By) : ISharingEvent;

    private sealed record UnheardOfReminder(Guid HorseId, DateTimeOffset TakenAt, Guid By) : IReminderEvent;

    private static IEvent Wrap(object data)
    {
        var e = (IEvent)Activator.CreateInstance(typeof(Event<>).MakeGenericType(data.GetType()), data)!;
        e.StreamId = Id;
        e.Id = DeterministicId.From("event");
        return e;
    }
}
