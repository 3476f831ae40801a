using System.Reflection;
using System.Runtime.CompilerServices;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Naming;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;

namespace BackHistory.History.Tests;

/// <summary>A new id in an event fails here until it is decided whether it names somebody, who must be there.</summary>
public sealed class NamedIdsTests
{
    /// <summary>Of streams, of parts of one, and of what an event makes: held, or looked for, where they are decided on.</summary>
    private static readonly HashSet<string> Held =
    [
        "HorseId",
        "FromHorseId",
        "SaddleId",
        "VisitId",
        "IntoVisitId",
        "IntoId",
        "DuplicateId",
        "EntryId",
        "ReplacedBy",
        "WorkId",
        "NoteId",
        "AnswerNote",
        "FileId",
        "TrialId",
        "PadId",
        "ReminderId",
        "CoveredBy",
        "LetterId",
        "BookingId",
        "DigestId",
        "PracticeId",
        "StudyId",
        "GrantId",
        "LinkId",
        "CommentId",
        "Id",
    ];

    /// <summary>Whoever follows from what stands, and was there when that was said.</summary>
    private static readonly HashSet<(Type, string)> Follows =
    [
        (typeof(LetterOwed), "To"),
        (typeof(DigestOwed), "To"),
        (typeof(CareRoleEnded), "PersonId"),
        (typeof(PersonErased), "PersonId"),
    ];

    public static TheoryData<Type, string> Ids =>
        [
            .. typeof(IHappened)
                .Assembly.GetTypes()
                .Where(t => t is { IsInterface: false, IsAbstract: false } && t.IsAssignableTo(typeof(IHappened)))
                .Append(typeof(Note))
                .SelectMany(t => Inside(t).Select(p => (t, p))),
        ];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_id_in_an_event_is_held_follows_from_what_stands_or_must_be_there(Type type, string path)
    {
        var id = DeterministicId.From("named", type.Name, path);
        var happened = RuntimeHelpers.GetUninitializedObject(type);
        // What a fold of ids looks into is there in every event.
        foreach (var part in type.GetProperties().Where(p => p.CanWrite))
            part.SetValue(happened, Empty(part.PropertyType));
        Set(happened, path.Split('.'), id);
        var last = path.Split('.')[^1];
        var named = NamedIds.In(happened).Any(n => n.Id == id);
        var isHand = last == "By" && !named;
        Assert.True(
            named || isHand || Held.Contains(last) || Follows.Contains((type, last)),
            $"{type.Name}.{path} is looked for by nobody"
        );
    }

    [Fact]
    public void Enough_ids_are_looked_for() => Assert.True(Ids.Count > 100, $"only {Ids.Count}");

    private static IEnumerable<string> Inside(Type type) =>
        type.GetProperties()
            .Where(p => p.CanWrite)
            .SelectMany(p =>
                IsId(p.PropertyType) ? [p.Name]
                : p.PropertyType == typeof(VisitConditions) || p.PropertyType == typeof(AttachedFile)
                    ? Inside(p.PropertyType).Select(inside => $"{p.Name}.{inside}")
                : []
            );

    private static bool IsId(Type type) => type == typeof(Guid) || type == typeof(Guid?) || type == typeof(IReadOnlyList<Guid>);

    private static object? Empty(Type type) =>
        type == typeof(IReadOnlyList<Guid>) ? Array.Empty<Guid>()
        : type == typeof(VisitConditions) ? new VisitConditions()
        : type == typeof(AttachedFile) ? new AttachedFile(Guid.Empty, default, "", "", 0, [])
        : type.IsValueType ? Activator.CreateInstance(type)
        : null;

    private static void Set(object into, string[] path, Guid id)
    {
        var part = into.GetType().GetProperty(path[0], BindingFlags.Public | BindingFlags.Instance)!;
        if (path.Length == 1)
            part.SetValue(into, part.PropertyType == typeof(IReadOnlyList<Guid>) ? new[] { id } : id);
        else
            Set(part.GetValue(into)!, path[1..], id);
    }
}
