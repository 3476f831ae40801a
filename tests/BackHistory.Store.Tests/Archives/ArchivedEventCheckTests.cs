using System.Text.Json;
using System.Text.Json.Nodes;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.Store.Archives;
using BackHistory.Store.Events;

namespace BackHistory.Store.Tests.Archives;

/// <summary>A number that no horse has comes in by no archive, whichever event it stands in.</summary>
public sealed class ArchivedEventCheckTests
{
    private static readonly JsonSerializerOptions Json = StoredJson.Options();
    private static readonly DateTimeOffset Now = new(2026, 11, 25, 9, 0, 0, TimeSpan.Zero);

    /// <summary>Their numbers are not a horse's, nor a rule's.</summary>
    private static readonly Dictionary<Type, string> Left = new()
    {
        [typeof(VisitRecorded)] = "a version of the protocol",
        [typeof(LetterTemplateChanged)] = "a version of the words",
        [typeof(ReminderRaised)] = "what was found when it was raised: shown, and judged by nobody again",
        [typeof(PriorsLearned)] = "usable or not: a practice's own rules are judged where they are used",
        [typeof(NoiseLearned)] = "usable or not: a practice's own rules are judged where they are used",
        [typeof(RepeatabilityStudyBegun)] = "how much was meant to be measured: shown beside what was",
        [typeof(VisitBooked)] = "how often the booking was changed, as calendars count it",
        [typeof(BookingCancelled)] = "how often the booking was changed, as calendars count it",
        [typeof(HorseFileAttached)] = "the size of a file, which is counted when it is taken in",
        [typeof(SaddleFileAttached)] = "the size of a file, which is counted when it is taken in",
    };

    [Fact]
    public void Every_event_that_holds_a_number_is_judged_or_left_with_a_reason()
    {
        var (judged, let) = (0, new List<string>());
        foreach (var (type, alias) in EventAliases.All)
        {
            var sample = JsonSerializer.SerializeToNode(Samples.Of(type), type, Json)!;
            if (!Enlarge(sample) || Left.ContainsKey(type))
                continue;
            var data = JsonSerializer.Deserialize(sample, type, Json)!;
            var archived = new ArchivedEvent(
                1,
                Guid.Empty,
                Guid.Empty,
                "",
                1,
                alias,
                Now,
                null,
                null,
                JsonSerializer.SerializeToElement(sample)
            );
            if (ArchivedEventCheck.Problem(archived, data, Now) is null)
                let.Add(alias);
            judged++;
        }

        Assert.True(let.Count == 0, $"taken in with 987654321 for every number: {string.Join(' ', let)}");
        Assert.True(judged > 10, $"{judged} events hold numbers");
    }

    /// <summary>Puts a number that nothing has in the place of each.</summary>
    private static bool Enlarge(JsonNode node)
    {
        var any = false;
        if (node is JsonObject o)
        {
            foreach (var (name, value) in o.ToList())
            {
                if (value is JsonValue v && v.GetValueKind() == JsonValueKind.Number)
                    (o[name], any) = (987_654_321, true);
                else if (value is not null)
                    any |= Enlarge(value);
            }
        }
        else if (node is JsonArray a)
        {
            for (var i = 0; i < a.Count; i++)
            {
                if (a[i] is JsonValue v && v.GetValueKind() == JsonValueKind.Number)
                    (a[i], any) = (987_654_321, true);
                else if (a[i] is { } child)
                    any |= Enlarge(child);
            }
        }

        return any;
    }
}
