using BackHistory.History.Reminders;
using BackHistory.Language.Reminders;
using BackHistory.Trends.Rules;

namespace BackHistory.Language.Tests;

/// <summary>What is said of a reminder to somebody who does not know the measures.</summary>
public sealed class ReminderSentencesTests
{
    private static readonly Evidence Evidence = new(
        new DateOnly(2026, 6, 1),
        1,
        "slope-left",
        "behind-shoulder",
        "deg",
        5,
        1,
        4,
        0.9,
        new DateOnly(2026, 1, 10),
        new DateOnly(2026, 5, 1),
        "",
        new Finding(FindingKind.Hollower, "behind-shoulder", "left"),
        Because: CheckReason.SteadyWork,
        LastVisit: new DateOnly(2026, 4, 2)
    );

    public static TheoryData<string> Tags => [.. Languages.Shipped.Tags];

    [Theory]
    [MemberData(nameof(Tags))]
    public void Only_a_reminder_of_the_calendar_says_that_it_is_time_to_look_again(string language)
    {
        foreach (var rule in Enum.GetValues<ReminderRule>())
        {
            var said = ReminderSentences.SentenceOf(rule, Evidence, "Amber", ReportLanguage.Of(language));
            var time =
                said.Contains("time to look again", StringComparison.Ordinal)
                || said.Contains("Zeit, wieder nachzusehen", StringComparison.Ordinal);
            Assert.Equal(rule is ReminderRule.CheckDue or ReminderRule.NoVisit, time);
        }
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Every_reminder_names_the_horse_in_one_sentence_without_numbers_of_statistics(string language)
    {
        foreach (var rule in Enum.GetValues<ReminderRule>())
        {
            foreach (var kind in Enum.GetValues<FindingKind>())
            {
                var said = ReminderSentences.SentenceOf(
                    rule,
                    Evidence with
                    {
                        Finding = new Finding(kind, "behind-shoulder", "left"),
                    },
                    "Amber",
                    ReportLanguage.Of(language)
                );
                Assert.Contains("Amber", said, StringComparison.Ordinal);
                Assert.EndsWith(".", said, StringComparison.Ordinal);
                Assert.Equal(1, said.Count(c => c == '.'));
                Assert.DoesNotContain(said.Split(' '), w => w is "±" or "p" or "sd" or "%" or "probability" or "Wahrscheinlichkeit");
            }
        }
    }

    [Fact]
    public void A_vets_reminders_and_no_others_send_to_a_vet_first()
    {
        foreach (var rule in Enum.GetValues<ReminderRule>())
        {
            var vet = Families.Of(rule) == ReminderFamily.Vet;
            Assert.Equal(
                vet,
                ReminderSentences
                    .SentenceOf(rule, Evidence, "Amber", ReportLanguage.Of("en"))
                    .Contains("for a vet to look at", StringComparison.Ordinal)
            );
            Assert.Equal(
                vet,
                ReminderSentences
                    .SentenceOf(rule, Evidence, "Amber", ReportLanguage.Of("de"))
                    .Contains("tierärztliche Hand", StringComparison.Ordinal)
            );
        }
    }

    [Fact]
    public void That_tracings_all_lean_is_said_in_German_too()
    {
        var evidence = Evidence with { Leans = new(new DateOnly(2026, 7, 23), "left") };
        Assert.Equal(
            "Die Zeichnungen von Amber vom 23. Juli 2026 neigen sich alle gleich nach links: "
                + "bitte das Blatt waagerecht ausrichten und noch einmal zeichnen.",
            ReminderSentences.SentenceOf(ReminderRule.MeasureAgain, evidence, "Amber", ReportLanguage.Of("de"))
        );
    }
}
