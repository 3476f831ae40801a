using BackHistory.Application.Letters;
using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Language;
using BackHistory.Reports.Letters;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Letters;

/// <summary>A practice's own words clash with other words of the same letter, and with nothing else that its version counts.</summary>
public sealed class SetLetterTemplateTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task Words_are_saved_though_something_else_of_the_practice_was_changed_since_they_were_shown()
    {
        var practice = await acts.Found("letters beside units");
        var shown = await Version(practice);
        await Gauge(practice);

        var outcome = await Set(practice, "Shorter.", shown);

        Assert.Null(outcome.Refused);
        Assert.Equal(Source("Shorter."), (await Words(practice))?.Source);
    }

    [Fact]
    public async Task Words_that_somebody_changed_in_the_meantime_are_not_overwritten_also_where_the_first_came_back()
    {
        var practice = await acts.Found("letters at once");
        var shown = await Version(practice);
        Assert.Null((await Set(practice, "Longer.", shown)).Refused);
        Assert.Null((await Set(practice, null, await Version(practice))).Refused);

        var outcome = await Set(practice, "Shorter.", shown);

        Assert.Equal(RefusalKind.Stale, outcome.Refused?.Kind);
        Assert.Null(await Words(practice));
        Assert.Null((await Set(practice, "Shorter.", await Version(practice))).Refused);
    }

    [Fact]
    public async Task A_version_that_the_practice_never_had_is_refused()
    {
        var practice = await acts.Found("letters of tomorrow");

        Assert.Equal(RefusalKind.Stale, (await Set(practice, "Shorter.", await Version(practice) + 1)).Refused?.Kind);
    }

    private async Task<long> Version(TestPractice practice) => (await Load(practice)).Version;

    private async Task<OwnTemplate?> Words(TestPractice practice) =>
        (await Load(practice)).Templates.GetValueOrDefault(LetterTemplateChanged.KeyOf(LetterKind.OwnerCheck, "en"));

    private async Task<Practice> Load(TestPractice practice) => (await acts.Get<PracticeQueries>().Load(practice.Name, default))!;

    private Task<Outcome> Set(TestPractice practice, string? words, long seen) =>
        acts.Get<SetLetterTemplate>()
            .Do(
                new(LetterKind.OwnerCheck, "en", words is null ? null : Source(words)),
                practice.By(PracticeRole.Manager, expected: seen),
                default
            );

    private static string Source(string words) =>
        $"{LetterTemplate.Shipped(LetterKind.OwnerCheck, ReportLanguage.English).Source}\n\n{words}\n";

    private async Task Gauge(TestPractice practice)
    {
        IReadOnlyList<GaugeMark> marks = [new("1", 1, 30), new("2", 2, 32), new("3", 3, 34), new("4", 4, 36)];
        var outcome = await acts.Get<EnterGauge>()
            .Do(new("bench-1", "Bench 1", "slope", "deg", marks, "Measured."), practice.By(PracticeRole.Manager), default);
        Assert.Null(outcome.Refused);
    }
}
