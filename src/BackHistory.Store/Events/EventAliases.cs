using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using Marten.Events;

namespace BackHistory.Store.Events;

/// <summary>
/// The names under which events lie in the store. They never change: a class may be renamed, an alias may not, and a shape that must
/// change gets a new alias with an upcaster.
/// </summary>
public static class EventAliases
{
    /// <summary>Every event of the job and its alias.</summary>
    public static IReadOnlyDictionary<Type, string> All { get; } =
        new Dictionary<Type, string>
        {
            [typeof(HorseRegistered)] = "horse_registered",
            [typeof(HorseDetailsCorrected)] = "horse_details_corrected",
            [typeof(HorseWithdrawn)] = "horse_withdrawn",
            [typeof(HorseRestored)] = "horse_restored",
            [typeof(HorseMerged)] = "horse_merged",
            [typeof(HorseMergedAway)] = "horse_merged_away",
            [typeof(OwnerChanged)] = "owner_changed",
            [typeof(YardChanged)] = "yard_changed",
            [typeof(CareRoleTaken)] = "care_role_taken",
            [typeof(CareRoleEnded)] = "care_role_ended",
            [typeof(WorkChanged)] = "work_changed_2",
            [typeof(WorkWithdrawn)] = "work_withdrawn",
            [typeof(CareNoted)] = "care_noted",
            [typeof(CareEnded)] = "care_ended",
            [typeof(CareCorrected)] = "care_corrected",
            [typeof(CareWithdrawn)] = "care_withdrawn",
            [typeof(HorseFileAttached)] = "horse_file_attached",
            [typeof(HorseFileRemoved)] = "horse_file_removed",

            [typeof(VisitRecorded)] = "visit_recorded",
            [typeof(VisitCorrected)] = "visit_corrected",
            [typeof(VisitWithdrawn)] = "visit_withdrawn",
            [typeof(VisitMerged)] = "visit_merged",
            [typeof(CrossSectionTraced)] = "cross_section_traced",
            [typeof(ToplineTraced)] = "topline_traced",
            [typeof(ReadingTaken)] = "reading_taken",
            [typeof(ConditionScored)] = "condition_scored",
            [typeof(MuscleScored)] = "muscle_scored",
            [typeof(Weighed)] = "weighed",
            [typeof(GirthTaped)] = "girth_taped",
            [typeof(VisitNoted)] = "visit_noted",
            [typeof(HeightMeasured)] = "height_measured",
            [typeof(EntryCorrected)] = "entry_corrected",
            [typeof(EntryWithdrawn)] = "entry_withdrawn",

            [typeof(SaddleRegistered)] = "saddle_registered",
            [typeof(SaddleDetailsCorrected)] = "saddle_details_corrected",
            [typeof(SaddleWithdrawn)] = "saddle_withdrawn",
            [typeof(SaddleOwnerChanged)] = "saddle_owner_changed",
            [typeof(SaddlePartsListed)] = "saddle_parts_listed",
            [typeof(SaddleSet)] = "saddle_set",
            [typeof(SaddleAltered)] = "saddle_altered",
            [typeof(SaddleFlocked)] = "saddle_flocked",
            [typeof(SaddleWorkCorrected)] = "saddle_work_corrected",
            [typeof(SaddleWorkWithdrawn)] = "saddle_work_withdrawn",
            [typeof(SaddleTakenOff)] = "saddle_taken_off",
            [typeof(SaddleMoved)] = "saddle_moved",
            [typeof(SaddleTrialBegun)] = "saddle_trial_begun",
            [typeof(SaddleTrialEnded)] = "saddle_trial_ended",
            [typeof(PadFitted)] = "pad_fitted",
            [typeof(PadRemoved)] = "pad_removed",
            [typeof(SaddleFileAttached)] = "saddle_file_attached",
            [typeof(SaddleFileRemoved)] = "saddle_file_removed",

            [typeof(PracticeFounded)] = "practice_founded",
            [typeof(DisplayUnitsChosen)] = "display_units_chosen",
            [typeof(PracticeDetailsCorrected)] = "practice_details_corrected",
            [typeof(WatchRulesChanged)] = "watch_rules_changed",
            [typeof(PriorsLearned)] = "priors_learned",
            [typeof(ProtocolChanged)] = "protocol_changed",
            [typeof(ReminderRulesChanged)] = "reminder_rules_changed",
            [typeof(LetterTemplateChanged)] = "letter_template_changed",
            [typeof(LettersReleased)] = "letters_released",
            [typeof(GaugeTableChanged)] = "gauge_table_changed",
            [typeof(GaugeTableRetired)] = "gauge_table_retired",
            [typeof(RepeatabilityStudied)] = "repeatability_studied",
            [typeof(NoiseLearned)] = "noise_learned",
            [typeof(RepeatabilityStudyBegun)] = "repeatability_study_begun",
            [typeof(RepeatedVisitCounted)] = "repeated_visit_counted",
            [typeof(RepeatabilityStudyFinished)] = "repeatability_study_finished",
            [typeof(RepeatabilityStudyWithdrawn)] = "repeatability_study_withdrawn",
            [typeof(PersonErased)] = "person_erased",

            [typeof(ReminderRaised)] = "reminder_raised",
            [typeof(LetterOwed)] = "letter_owed",
            [typeof(LetterSent)] = "letter_sent",
            [typeof(LetterBounced)] = "letter_bounced",
            [typeof(LetterGivenUp)] = "letter_given_up",
            [typeof(LetterDeferred)] = "letter_deferred",
            [typeof(LetterDelayed)] = "letter_delayed",
            [typeof(LetterDelivered)] = "letter_delivered",
            [typeof(ReminderOpened)] = "reminder_opened",
            [typeof(ReminderMuted)] = "reminder_muted",
            [typeof(ReminderUnmuted)] = "reminder_unmuted",
            [typeof(ReminderResumed)] = "reminder_resumed",
            [typeof(ReminderAnswered)] = "reminder_answered_2",
            [typeof(ReminderPutOff)] = "reminder_put_off",
            [typeof(VisitBooked)] = "visit_booked",
            [typeof(BookingCancelled)] = "booking_cancelled",
            [typeof(BookingPassed)] = "booking_passed",
            [typeof(ReminderResolved)] = "reminder_resolved",
            [typeof(ReminderClosed)] = "reminder_closed",
            [typeof(VetCleared)] = "vet_cleared",
            [typeof(ReminderWithdrawn)] = "reminder_withdrawn",

            [typeof(DigestOwed)] = "bulletin_owed",
            [typeof(DigestSent)] = "bulletin_sent",
            [typeof(DigestGivenUp)] = "bulletin_given_up",
            [typeof(DigestNoted)] = "bulletin_noted",

            [typeof(ConfirmationAsked)] = "confirmation_asked",
            [typeof(VisitConfirmed)] = "visit_confirmed",

            [typeof(AccessGranted)] = "access_granted",
            [typeof(AccessRevoked)] = "access_revoked",
            [typeof(LinkMade)] = "link_made",
            [typeof(LinkBound)] = "link_bound",
            [typeof(LinkRevoked)] = "link_revoked",
            [typeof(Commented)] = "commented",
            [typeof(SharingMerged)] = "sharing_merged",
            [typeof(SharingMergedAway)] = "sharing_merged_away",
        };

    /// <summary>An event's alias, whatever shape it was written in.</summary>
    /// <exception cref="UnknownEventException">it is no event of this release</exception>
    public static string AliasOf(object e) =>
        All.TryGetValue(e.GetType(), out var alias) ? alias : throw UnknownEventException.In(nameof(EventAliases), e);

    /// <summary>Today's alias of what lies in the store under this one.</summary>
    internal static string Today(string alias) => Upcasters.ReadAs.TryGetValue(alias, out var type) ? All[type] : alias;

    internal static void Map(IEventStoreOptions events)
    {
        foreach (var (type, alias) in All)
            events.MapEventType(type, alias);
        Upcasters.Map(events);
    }
}
