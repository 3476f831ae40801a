using BackHistory.Store.Audit;

namespace BackHistory.Service.Audit;

/// <summary>An audit note in a sentence.</summary>
public static class AuditSays
{
    /// <param name="name">A person's name from their id.</param>
    public static string Sentence(AuditNote note, Func<Guid, string> name)
    {
        var who = note.PersonId is { } person ? name(person) : "somebody";
        var about = note.About is { } other ? name(other) : "somebody";
        var detail = note.Detail is { Length: > 0 } d ? $" ({d})" : "";
        return note.What switch
        {
            AuditWords.Saw => $"{who} looked at {Thing(note.Detail)}",
            AuditWords.Kept => $"A device of {who} kept {Thing(note.Detail)} for where there is no connection",
            AuditWords.LinkOpened => $"the link{For(note, name)} was used{detail}",
            AuditWords.LinkTurnedAway => $"the link{For(note, name)} was tried, and showed nothing{detail}",
            AuditWords.GrantOpened => $"{who} looked{detail}",
            AuditWords.GrantTurnedAway => $"{who} tried to look, and saw nothing{detail}",
            AuditWords.Invited => $"{who} invited {about}{detail}",
            AuditWords.InvitationTakenBack => $"{who} took an invitation back",
            AuditWords.Joined => $"{about} accepted an invitation{detail}",
            AuditWords.RoleChanged => $"{who} changed what {about} may do{detail}",
            AuditWords.TakenOut => $"{who} took {about} out of the practice",
            AuditWords.SignedOut => $"{who} signed {about} out everywhere",
            AuditWords.KeyMade => $"{who} made a key for a program{detail}",
            AuditWords.KeyEnded => $"{who} ended a key for a program{detail}",
            AuditWords.PersonAdded => $"{who} added {about}",
            AuditWords.PersonChanged => $"{who} changed what is known of {about}{detail}",
            AuditWords.YardAdded => $"{who} added a yard",
            AuditWords.YardChanged => $"{who} changed a yard{detail}",
            AuditWords.YardRemoved => $"{who} removed a yard",
            AuditWords.YardBroughtBack => $"{who} brought a yard back",
            AuditWords.IdentityChanged => $"{who} changed by what the horse is identified{detail}",
            AuditWords.ContactChanged => $"{who} changed how the practice is reached{detail}",
            AuditWords.CalendarMade => $"{who} made an address for a calendar program",
            AuditWords.CalendarRevoked => $"{who} revoked an address for a calendar program",
            AuditWords.Recovered => $"on the machine itself {about} was let in anew: password, codes, passkeys, sessions and keys ended",
            AuditWords.WebhookAdded => $"{who} lets other software be told of changes{detail}",
            AuditWords.WebhookStarted => $"{who} started again that other software is told of changes{detail}",
            AuditWords.WebhookRemoved => $"{who} ended that other software is told of changes{detail}",
            AuditWords.WebhookStays => $"what {about} set up stays with the practice: other software is told of changes{detail}",
            AuditWords.ArchiveTaken => $"{who} took {(note.HorseId is null ? "the whole practice" : "the horse")} out as an archive",
            AuditWords.ArchiveTakenIn => $"{who} took an archive in",
            _ => note.What,
        };
    }

    /// <summary>The last word of an address, as a person calls what stands there; one of an older release stays as it was noted.</summary>
    private static string Thing(string? last) =>
        last switch
        {
            "sparkline.svg" => "its line in the caseload",
            "report.pdf" => "the comparison as a report",
            "compare" => "a comparison of dates",
            "back.json" or "back" or "surface" => "the shape of the back",
            "contour" => "a contour",
            "contours" => "the contours of its visits",
            "change" or "change-map" => "the map of change",
            "trend" => "a chart of a measure",
            "trends" => "the trends of its measures",
            "measures" => "the values of its measures",
            "section" => "a chart of cross-sections",
            "topline" => "a chart of toplines",
            "condition" => "its muscle, weight and condition over time",
            "decision" => "the decision about its saddle",
            "since-fit" => "the changes since its saddle was set",
            "proposal" => "the proposal for its saddle",
            "gauge" => "the marks of its saddle on the gauge",
            "setting.pdf" => "the sheet for the bench",
            "template.pdf" => "the template of its saddle",
            "visits" => "its visits",
            "new" => "the form for a visit",
            "desk" => "the tracing desk",
            "files" => "its photographs and documents",
            "care" => "the notes of its care",
            "care-roles" => "who cares for it",
            "work" => "its work",
            "details" => "its details",
            "identity" => "its microchip and passport",
            "owner" => "its owner",
            "yard" => "its yard",
            "withdraw" => "the form that takes something back",
            "end" => "the form that ends something",
            "entries" => "the form that puts an entry right",
            "put-back" => "the form that puts something back",
            "confirm" => "the form that confirms a visit",
            "send-back" => "the form that sends a visit back",
            "give" => "the form that gives a visit to another horse",
            "more" => "the form that adds to a visit",
            "remove" => "the form that removes a file",
            "merge" => "the form that merges it with another",
            "timeline" => "its history",
            "known" => "the horse as it was known at a moment",
            "archive" => "its archive",
            "share" or "sharing" => "who else sees it",
            "comments" => "the words of those it is shared with",
            null or "" => "the horse",
            var word => word,
        };

    private static string For(AuditNote note, Func<Guid, string> name) => note.PersonId is { } person ? $" for {name(person)}" : "";
}
