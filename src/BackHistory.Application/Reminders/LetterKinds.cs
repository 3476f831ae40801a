using BackHistory.History.Reminders;
using Shipped = BackHistory.Reports.Letters.LetterKind;

namespace BackHistory.Application.Reminders;

/// <summary>Which shipped template a kind of letter is written with.</summary>
public static class LetterKinds
{
    public static Shipped TemplateOf(LetterKind kind) =>
        kind switch
        {
            LetterKind.OwnerRefit => Shipped.OwnerRefit,
            LetterKind.OwnerCheck => Shipped.OwnerCalendar,
            LetterKind.VetCaution => Shipped.OwnerVetFirst,
            LetterKind.GroundWithdrawn => Shipped.OwnerGroundWithdrawn,
            LetterKind.MeasureAgain => Shipped.OwnerMeasureAgain,
            LetterKind.NoAnswer => Shipped.NoAnswer,
            LetterKind.BookingMade => Shipped.OwnerBooking,
            LetterKind.BookingCancelled => Shipped.OwnerBookingCancelled,
            LetterKind.ManagerDigest => Shipped.ManagerDigest,
            LetterKind.FitterDay => Shipped.FitterDay,
            LetterKind.VetNote => Shipped.VetNote,
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "no such letter"),
        };
}
