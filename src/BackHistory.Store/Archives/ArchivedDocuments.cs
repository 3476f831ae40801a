using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Sharing;

namespace BackHistory.Store.Archives;

/// <summary>What stands beside the events of a practice and belongs to its archive.</summary>
public sealed record ArchivedDocuments(
    IReadOnlyList<Person> People,
    IReadOnlyList<Yard> Yards,
    IReadOnlyList<Note> Notes,
    IReadOnlyList<LetterContent> Letters,
    IReadOnlyList<Comment> Comments,
    IReadOnlyList<Assessment> Assessments,
    IReadOnlyList<PracticeContact>? Contact = null,
    IReadOnlyList<HorseIdentity>? Identities = null
);
