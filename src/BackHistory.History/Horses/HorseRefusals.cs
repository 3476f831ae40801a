using System.Globalization;

namespace BackHistory.History.Horses;

/// <summary>Why something about a horse is refused, in a person's words.</summary>
public static class HorseRefusals
{
    public static readonly Refused NoSuchHorse = new("no-such-horse", "There is no such horse in this practice.", RefusalKind.NotFound);

    public static readonly Refused NoSuchVisit = new("no-such-visit", "There is no such visit to this horse.", RefusalKind.NotFound);

    public static readonly Refused NoSuchEntry = new(
        "no-such-entry",
        "There is no such entry in this visit, or it was corrected or withdrawn already.",
        RefusalKind.NotFound
    );

    public static readonly Refused AlreadyRegistered = new("already-registered", "This horse is registered already.", RefusalKind.Conflict);

    public static readonly Refused VisitExists = new(
        "visit-exists",
        "This visit was recorded already. Add to it, or correct it.",
        RefusalKind.Conflict
    );

    public static readonly Refused VisitGone = new(
        "visit-withdrawn",
        "This visit was withdrawn. Nothing was saved; record a new visit.",
        RefusalKind.Conflict
    );

    public static readonly Refused VisitStands = new(
        "visit-stands",
        "This visit was not withdrawn: there is nothing to put back.",
        RefusalKind.Conflict
    );

    public static readonly Refused VisitRestored = new(
        "visit-restored",
        "This visit was put back already. Nothing was saved; look at the horse's history.",
        RefusalKind.Conflict
    );

    public static readonly Refused EntryStands = new(
        "entry-stands",
        "This entry stands, or was put back already. Nothing was saved; look at the visit.",
        RefusalKind.Conflict
    );

    public static readonly Refused EntryExists = new(
        "entry-exists",
        "An entry with this id stands in the visit already.",
        RefusalKind.Conflict
    );

    public static readonly Refused NothingEntered = new(
        "nothing-entered",
        "There is nothing to enter: no tracing, reading or score was given."
    );

    public static readonly Refused NoMethod = new(
        "no-method",
        "Say with what the horse was measured, in up to 60 letters, for example flexible-curve."
    );

    public static readonly Refused HorseWithdrawn = new(
        "horse-withdrawn",
        "This horse was registered by mistake and withdrawn. Nothing was saved; put it back, or register it anew.",
        RefusalKind.Conflict
    );

    public static readonly Refused HorseStands = new(
        "horse-stands",
        "This horse was not withdrawn: there is nothing to put back.",
        RefusalKind.Conflict
    );

    public static readonly Refused TookInAnother = new(
        "took-in-another",
        "A second registration was merged into this horse, and visits stand here. Nothing was changed; withdraw those visits first.",
        RefusalKind.Conflict
    );

    public static readonly Refused NoSuchNote = new(
        "no-such-note",
        "There is no such note of this horse, or it was withdrawn already.",
        RefusalKind.NotFound
    );

    public static readonly Refused NoteExists = new("note-exists", "This was noted already.", RefusalKind.Conflict);

    public static Refused MergedAway(Guid into) =>
        new(
            "horse-merged",
            $"This horse was registered twice; its history goes on in {into}. Nothing was saved; repeat it there.",
            RefusalKind.Conflict
        );

    /// <summary>Whether anything can still be recorded of the horse.</summary>
    public static Refused? OfHorse(Horse? horse) =>
        horse switch
        {
            null => NoSuchHorse,
            { MergedInto: { } into } => MergedAway(into),
            { Withdrawn: true } => HorseWithdrawn,
            _ => null,
        };

    public static Refused InTheFuture(DateOnly day) =>
        Plausible.InTheFuture(new DateTimeOffset(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero));

    public static Refused BeforeBirth(DateTimeOffset at, DateOnly born) =>
        new(
            "before-birth",
            $"The horse was born on {born.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}; {Day(at)} is before that. Check both "
                + $"dates."
        );

    public static Refused? OfReason(string? reason) =>
        string.IsNullOrWhiteSpace(reason) ? new("no-reason", "A correction needs a reason; it stays in the history beside it.")
        : reason.Length > 400 ? new("long-reason", "Keep the reason under 400 letters.")
        : null;

    public static Refused? OfDetails(HorseDetails d, DateTimeOffset now)
    {
        if (ReadableName.IsMissing(d.Name) || d.Name.Trim().Length > 80)
            return new("no-name", "A horse needs a name of up to 80 letters.", Place: "name");
        if (d.Foaled is { } born && born > ZoneClock.LatestDay(now))
            return new("in-the-future", $"The horse cannot be born on {born:yyyy-MM-dd}, which lies in the future.", Place: "foaled");
        if (d.Foaled is { } old && old.Year < now.Year - 60)
            return new("too-long-ago", $"Born on {old:yyyy-MM-dd} the horse would be over 60 years old. Check the year.", Place: "foaled");
        if (d.HeightMm is { } height && !Plausible.Height.Holds(height))
            return new(
                "implausible-height",
                $"{d.HeightMm} mm at the withers is no horse's height. Is it in millimetres? One hand is 101.6 mm.",
                Place: "heightMm"
            );
        if (d.Breed?.Length > 80 || d.Colour?.Length > 80)
            return new("too-long", "Keep breed and colour under 80 letters each.");
        return null;
    }

    private static string Day(DateTimeOffset at) => at.ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
