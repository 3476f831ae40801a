using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.History.Timeline;
using BackHistory.Language.Timeline;
using BackHistory.Store.Tests;

namespace BackHistory.Language.Tests.Timeline;

/// <summary>History answers with facts; the sentences of the timeline are made here.</summary>
public sealed class TimelineSentencesTests
{
    private static readonly ReportLanguage German = ReportLanguage.For("de");

    /// <summary>As the timeline said them when it kept sentences: who reads it in English notices nothing.</summary>
    [Fact]
    public void Every_event_is_told_in_English_as_it_always_was()
    {
        using var stream = typeof(TimelineSentencesTests).Assembly.GetManifestResourceStream("timeline.en.txt")!;
        using var reader = new StreamReader(stream);
        var lines = reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => l.Split('\t')).ToList();
        Assert.Equal(66, lines.Count);
        Assert.All(lines, l => Assert.Equal(l[1], Fact(l[0]).InWords(TimeZoneInfo.Utc)));
    }

    [Fact]
    public void Every_event_is_told_in_another_language_too()
    {
        var told = typeof(IHappened).Assembly.GetTypes().Where(IsOfAHorse).Select(t => (t.Name, Fact: Fact(t.Name))).ToList();
        Assert.True(told.Count > 60, $"{told.Count} events");
        Assert.All(told, t => Assert.NotEqual(t.Fact.InWords(TimeZoneInfo.Utc), t.Fact.InWords(TimeZoneInfo.Utc, German)));
    }

    [Fact]
    public void What_was_done_to_a_saddle_stands_part_by_part()
    {
        var set = new SaddleSet(
            Guid.Empty,
            Guid.Empty,
            null,
            [new Adjustment("tree", "left", "3", "4.5"), new Adjustment("panel", null, null, "fuller")],
            false,
            DateTimeOffset.UnixEpoch,
            Guid.Empty
        );
        var fact = TimelineFacts.FactFrom(set);
        Assert.Equal("Saddle set: tree left from 3 to 4.5; panel to fuller.", fact.InWords(TimeZoneInfo.Utc));
        Assert.Equal("Sattel eingestellt: tree links von 3 auf 4.5; panel auf fuller.", fact.InWords(TimeZoneInfo.Utc, German));
        Assert.Equal("Saddle set.", TimelineFacts.FactFrom(set with { Done = [] }).InWords(TimeZoneInfo.Utc));
    }

    [Fact]
    public void Numbers_and_days_are_written_as_the_language_writes_them()
    {
        var weighed = TimelineFacts.FactFrom(new Weighed(Guid.Empty, Guid.Empty, 512.5, DateTimeOffset.UnixEpoch, Guid.Empty));
        Assert.Equal("Weighed: 512.5 kg.", weighed.InWords(TimeZoneInfo.Utc));
        Assert.Equal("Gewogen: 512,5 kg.", weighed.InWords(TimeZoneInfo.Utc, German));
        var ended = TimelineFacts.FactFrom(new CareEnded(Guid.Empty, new DateOnly(2026, 3, 2), DateTimeOffset.UnixEpoch, Guid.Empty));
        Assert.Equal("It ended on 2 Mar 2026.", ended.InWords(TimeZoneInfo.Utc));
        Assert.Equal("Es endete am 2. März 2026.", ended.InWords(TimeZoneInfo.Utc, German));
    }

    [Fact]
    public void What_could_not_be_worked_out_is_named_by_its_alias() =>
        Assert.Equal(
            "Something was recorded that could not be put into words (saddle set).",
            TimelineFacts.NotPutIntoWords("saddle_set").InWords(TimeZoneInfo.Utc)
        );

    private static bool IsOfAHorse(Type type) =>
        !type.IsAbstract
        && (type.IsAssignableTo(typeof(IHorseEvent)) || type.IsAssignableTo(typeof(ISaddleOnHorse)) || type.IsAssignableTo(Reminders));

    private static Type Reminders => typeof(History.Reminders.IReminderEvent);

    private static TimelineFact Fact(string name) =>
        TimelineFacts.FactFrom(
            Samples.Of(typeof(IHappened).Assembly.GetTypes().Single(t => t.Name == name && t.IsAssignableTo(typeof(IHappened))))
        );
}
