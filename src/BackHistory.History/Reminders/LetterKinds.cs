namespace BackHistory.History.Reminders;

/// <summary>What there is to know of each kind of letter, apart from its words.</summary>
public static class LetterKinds
{
    public static IReadOnlyList<LetterDefinition> All { get; } =
    [
        new(LetterKind.OwnerRefit)
        {
            Says = [LetterPart.Finding, LetterPart.Evidence, LetterPart.Back, LetterPart.Answers],
            Cautions = [LetterCaution.VetFirst, LetterCaution.NoDiagnosis],
            Tells = [ReminderFamily.Shape],
            EndsWithReminder = true,
        },
        new(LetterKind.OwnerCheck)
        {
            Says = [LetterPart.Finding, LetterPart.Evidence, LetterPart.Back, LetterPart.Answers],
            Cautions = [LetterCaution.VetFirst],
            Tells = [ReminderFamily.Calendar, ReminderFamily.Recheck],
            EndsWithReminder = true,
        },
        new(LetterKind.VetCaution)
        {
            Says = [LetterPart.Finding, LetterPart.Evidence, LetterPart.Back, LetterPart.Answers],
            MayLeaveOut = [LetterPart.Answers],
            Cautions = [LetterCaution.VetFirst, LetterCaution.NoDiagnosis],
            Tells = [ReminderFamily.Vet],
            EndsWithReminder = true,
        },
        new(LetterKind.GroundWithdrawn) { Says = [LetterPart.Finding] },
        new(LetterKind.MeasureAgain)
        {
            Says = [LetterPart.Finding, LetterPart.Evidence, LetterPart.Back, LetterPart.Answers],
            Cautions = [LetterCaution.VetFirst],
            Tells = [ReminderFamily.Again],
            EndsWithReminder = true,
        },
        new(LetterKind.NoAnswer)
        {
            Says = [LetterPart.Silence, LetterPart.Finding, LetterPart.RemindersLink],
            EndsWithReminder = true,
            EndsWithAnswer = true,
        },
        new(LetterKind.BookingMade)
        {
            Says = [LetterPart.Booking, LetterPart.MoveLink],
            MayLeaveOut = [LetterPart.MoveLink],
            Cautions = [LetterCaution.VetFirst],
            EndsWithBooking = true,
            Hurry = LetterHurry.WaitsUnlessNear,
        },
        new(LetterKind.BookingCancelled) { Says = [LetterPart.BookingEnd], Hurry = LetterHurry.AtOnce },
        new(LetterKind.ManagerDigest) { Says = [LetterPart.Week, LetterPart.RemindersLink] },
        new(LetterKind.FitterDay) { Says = [LetterPart.Day], Cautions = [LetterCaution.SafeFooting] },
        new(LetterKind.VetNote)
        {
            Says = [LetterPart.Finding, LetterPart.Evidence, LetterPart.HorseLink],
            Cautions = [LetterCaution.NoDiagnosis],
            SeesByLink = true,
        },
        new(LetterKind.VisitMoved)
        {
            Says = [LetterPart.VisitMoved, LetterPart.HorseLink],
            ToPractice = true,
            EndsWithBooking = true,
            Hurry = LetterHurry.WaitsUnlessNear,
        },
        new(LetterKind.VisitCancelled)
        {
            Says = [LetterPart.VisitCancelled, LetterPart.RemindersLink],
            ToPractice = true,
            Hurry = LetterHurry.WaitsUnlessNear,
        },
    ];

    private static readonly Dictionary<LetterKind, LetterDefinition> ByKind = All.ToDictionary(d => d.Kind);

    public static LetterDefinition DefinitionOf(LetterKind kind) =>
        ByKind.GetValueOrDefault(kind) ?? throw new ArgumentOutOfRangeException(nameof(kind), kind, "no such letter");

    /// <summary>The letter that tells the date of a booked visit.</summary>
    public static LetterKind TellingBooking => All.Single(d => d.Says.Contains(LetterPart.Booking)).Kind;

    /// <summary>The letter that tells the findings of a family of reminders.</summary>
    public static LetterKind Telling(ReminderFamily family) => All.Single(d => d.Tells.Contains(family)).Kind;
}
