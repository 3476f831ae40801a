using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using Marten.Events;

namespace BackHistory.History.Store;

/// <summary>
/// The names under which events lie in the store. They never change: a class may be renamed, an alias may not, and a shape that must change gets a
/// new alias with an upcaster.
/// </summary>
public static class EventAliases
{
    /// <summary>Every event of the job and its alias.</summary>
    public static IReadOnlyDictionary<Type, string> All { get; } = new Dictionary<Type, string>
    {
        [typeof(HorseRegistered)] = "horse_registered",
        [typeof(HorseDetailsCorrected)] = "horse_details_corrected",
        [typeof(OwnerChanged)] = "owner_changed",
        [typeof(YardChanged)] = "yard_changed",
        [typeof(WorkChanged)] = "work_changed",
        [typeof(CareNoted)] = "care_noted",
        [typeof(VisitRecorded)] = "visit_recorded",
        [typeof(VisitCorrected)] = "visit_corrected",
        [typeof(VisitWithdrawn)] = "visit_withdrawn",
        [typeof(CrossSectionTraced)] = "cross_section_traced",
        [typeof(ToplineTraced)] = "topline_traced",
        [typeof(ReadingTaken)] = "reading_taken",
        [typeof(ConditionScored)] = "condition_scored",
        [typeof(MuscleScored)] = "muscle_scored",
        [typeof(Weighed)] = "weighed",
        [typeof(GirthTaped)] = "girth_taped",
        [typeof(EntryCorrected)] = "entry_corrected",
        [typeof(EntryWithdrawn)] = "entry_withdrawn",

        [typeof(SaddleRegistered)] = "saddle_registered",
        [typeof(SaddleDetailsCorrected)] = "saddle_details_corrected",
        [typeof(SaddleSet)] = "saddle_set",
        [typeof(SaddleAltered)] = "saddle_altered",
        [typeof(SaddleWorkWithdrawn)] = "saddle_work_withdrawn",
        [typeof(SaddleTakenOff)] = "saddle_taken_off",

        [typeof(PracticeFounded)] = "practice_founded",
        [typeof(WatchRulesChanged)] = "watch_rules_changed",
        [typeof(ProtocolChanged)] = "protocol_changed",

        [typeof(ReminderRaised)] = "reminder_raised",
        [typeof(LetterOwed)] = "letter_owed",
        [typeof(LetterSent)] = "letter_sent",
        [typeof(LetterGivenUp)] = "letter_given_up",
        [typeof(ReminderAnswered)] = "reminder_answered",
        [typeof(ReminderPutOff)] = "reminder_put_off",
        [typeof(VisitBooked)] = "visit_booked",
        [typeof(ReminderResolved)] = "reminder_resolved",
        [typeof(ReminderClosed)] = "reminder_closed",
        [typeof(ReminderWithdrawn)] = "reminder_withdrawn",

        [typeof(ConfirmationAsked)] = "confirmation_asked",
        [typeof(VisitConfirmed)] = "visit_confirmed",

        [typeof(AccessGranted)] = "access_granted",
        [typeof(AccessRevoked)] = "access_revoked",
        [typeof(LinkMade)] = "link_made",
        [typeof(LinkBound)] = "link_bound",
        [typeof(LinkRevoked)] = "link_revoked",
        [typeof(Commented)] = "commented",
    };

    internal static void Map(IEventStoreOptions events)
    {
        foreach (var (type, alias) in All) events.MapEventType(type, alias);
    }
}
