using System.Globalization;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.History.Horses;

/// <summary>One line of a horse's timeline: what happened, when it was true, when it was recorded, by whom.</summary>
public sealed record TimelineEntry
{
    /// <summary>The event's own id.</summary>
    public Guid Id { get; init; }

    public Guid HorseId { get; init; }

    /// <summary>When it was true.</summary>
    public DateTimeOffset TakenAt { get; init; }

    public DateTimeOffset RecordedAt { get; init; }

    /// <summary>Position in the whole store: the order among things of one moment.</summary>
    public long Sequence { get; init; }

    /// <summary>The event's alias.</summary>
    public string Kind { get; init; } = "";

    /// <summary>visit, saddle, reminder, care or horse: the group that a page shows together.</summary>
    public string Group { get; init; } = "";

    /// <summary>Who did it.</summary>
    public Guid By { get; init; }

    public Guid? VisitId { get; init; }

    public Guid? EntryId { get; init; }

    public Guid? SaddleId { get; init; }

    public Guid? ReminderId { get; init; }

    /// <summary>In a person's words.</summary>
    public string Says { get; init; } = "";
}

/// <summary>One timeline entry for every event that touches a horse.</summary>
public sealed partial class TimelineProjection : MultiStreamProjection<TimelineEntry, Guid>
{
    public TimelineProjection()
    {
        Name = "Timeline";
        Identity<IEvent<IHorseEvent>>(e => e.Id);
        Identity<IEvent<ISaddleWork>>(e => e.Id);
        Identity<IEvent<SaddleWorkWithdrawn>>(e => e.Id);
        Identity<IEvent<SaddleTakenOff>>(e => e.Id);
        Identity<IEvent<IReminderEvent>>(e => e.Id);
    }

    public override TimelineEntry? Evolve(TimelineEntry? snapshot, Guid id, IEvent e) => Of(e);

    /// <summary>The entry of one event.</summary>
    public static TimelineEntry? Of(IEvent e)
    {
        if (e.Data is not IHappened happened) return null;
        var entry = new TimelineEntry
        {
            Id = e.Id,
            RecordedAt = e.Timestamp,
            Sequence = e.Sequence,
            Kind = e.EventTypeName,
            By = happened.By,
            TakenAt = happened.TakenAt,
            Says = TimelineWords.Of(e.Data),
        };
        return e.Data switch
        {
            IVisitEntryEvent d => entry with { HorseId = e.StreamId, Group = "visit", VisitId = d.VisitId, EntryId = d.EntryId },
            EntryCorrected d => entry with { HorseId = e.StreamId, Group = "visit", VisitId = d.VisitId, EntryId = d.EntryId },
            EntryWithdrawn d => entry with { HorseId = e.StreamId, Group = "visit", VisitId = d.VisitId, EntryId = d.EntryId },
            IVisitEvent d => entry with { HorseId = e.StreamId, Group = "visit", VisitId = d.VisitId },
            CareNoted or WorkChanged => entry with { HorseId = e.StreamId, Group = "care" },
            IHorseEvent => entry with { HorseId = e.StreamId, Group = "horse" },
            ISaddleWork d => entry with { HorseId = d.HorseId, Group = "saddle", SaddleId = e.StreamId, VisitId = d.VisitId },
            SaddleWorkWithdrawn d => entry with { HorseId = d.HorseId, Group = "saddle", SaddleId = e.StreamId },
            SaddleTakenOff d => entry with { HorseId = d.HorseId, Group = "saddle", SaddleId = e.StreamId },
            IReminderEvent d => entry with { HorseId = d.HorseId, Group = "reminder", ReminderId = e.StreamId },
            _ => null,
        };
    }
}

/// <summary>Events in a person's words. English, as the history's own notes are.</summary>
internal static class TimelineWords
{
    public static string Of(object e) => e switch
    {
        HorseRegistered d => $"{d.Name} was registered.",
        HorseDetailsCorrected d => $"Details corrected: {d.Reason}",
        OwnerChanged => "The owner changed.",
        YardChanged => "Moved to another yard.",
        WorkChanged d => d.Discipline is null ? $"Work changed to {Lower(d.Load)}." : $"Work changed to {Lower(d.Load)}, {d.Discipline}.",
        CareNoted d => d.Until is { } until ? $"{Care(d.Kind)} from {Day(d.From)} to {Day(until)}." : $"{Care(d.Kind)} from {Day(d.From)}.",
        VisitRecorded d => d.Conditions.Source == Source.SentIn ? "Measurements were sent in." : "Visit.",
        VisitCorrected d => $"Visit corrected: {d.Reason}",
        VisitWithdrawn d => $"Visit withdrawn: {d.Reason}",
        CrossSectionTraced d => $"Cross-section traced at {d.Station}, {d.Points.Count} points.",
        ToplineTraced d => $"Topline traced, {d.Points.Count} points.",
        ReadingTaken d => $"{d.Measure} read at {d.Station}: {Number(d.Value)} {d.Unit}.",
        ConditionScored d => $"Condition {Number(d.Score)} of 9.",
        MuscleScored d => $"Muscle at the {d.Site} {Number(d.Score)} ({d.Scale}).",
        Weighed d => $"Weighed: {Number(d.Kilograms)} kg.",
        GirthTaped d => $"Girth {Number(d.GirthMm / 10)} cm, length {Number(d.LengthMm / 10)} cm by tape.",
        ConfirmationAsked => "An apprentice entered this; somebody is to confirm it.",
        VisitConfirmed => "The visit was confirmed.",
        EntryCorrected d => $"Entry corrected: {d.Reason}",
        EntryWithdrawn d => $"Entry withdrawn: {d.Reason}",
        SaddleSet d => $"Saddle set{(d.NewSaddle ? " (new)" : "")}{Done(d.Done)}.",
        SaddleAltered d => $"Saddle altered{(d.Reflocked ? " (re-flocked)" : "")}{Done(d.Done)}.",
        SaddleWorkWithdrawn d => $"Saddle work withdrawn: {d.Reason}",
        SaddleTakenOff d => $"The saddle is no longer used on this horse: {d.Reason}",
        ReminderRaised d => $"Reminder: {d.Evidence.Sentence}",
        LetterOwed => "A letter is to be written.",
        LetterSent => "The letter was sent.",
        LetterGivenUp d => $"The letter could not be sent: {d.Reason}",
        ReminderAnswered d => d.Answer switch { Answer.Book => "Answered: please book.", Answer.Later => "Answered: later.", _ => "Answered: not needed." },
        ReminderPutOff d => $"Put off until {Day(d.Until)}: {d.Reason}",
        VisitBooked d => $"A visit was booked for {d.For.ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture)}.",
        ReminderResolved => "What the reminder asked for was done.",
        ReminderClosed d => $"Reminder closed: {d.Reason}",
        ReminderWithdrawn d => $"Reminder withdrawn: {d.Reason}",
        _ => "",
    };

    private static string Done(IReadOnlyList<Adjustment> done) => done.Count == 0 ? "" : ": " + string.Join("; ", done.Select(a =>
        $"{a.Part}{(a.Side is null ? "" : " " + a.Side)}{(a.From is null ? "" : " from " + a.From)}{(a.To is null ? "" : " to " + a.To)}"));

    private static string Care(CareKind kind) => kind switch
    {
        CareKind.LayOff => "Lay-off",
        CareKind.Illness => "Illness",
        CareKind.Veterinary => "Veterinary note",
        CareKind.Farriery => "Farrier",
        CareKind.Physiotherapy => "Physiotherapy",
        CareKind.Growth => "Growth",
        _ => "Note",
    };

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Lower(WorkLoad load) => load.ToString().ToLowerInvariant();
}
