using BackHistory.History.Reminders;
using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Letters.Content;
using BackHistory.Reports.Tests.Charts;

namespace BackHistory.Reports.Tests.Letters;

/// <summary>Invented people, horses and places.</summary>
static class SampleLetters
{
    static readonly LetterImage Chart = LetterImage.From("chart", TrendChart.Draw(Samples.OneSide, ChartTheme.Light, ChartSize.Letter));
    static readonly LetterImage Back = LetterImage.From(
        "back",
        BackPicture.Draw(
            new(SampleBacks.Now with { Label = "now" }, SampleBacks.Then with { Label = "when the saddle was set in June" }),
            ChartTheme.Light,
            BackPicture.Size
        )
    );

    public static LetterModel English { get; } =
        new()
        {
            PracticeName = "Saddle Practice at the Ford (invented)",
            PracticeContact = "Telephone 01234 567890",
            RecipientName = "Robin Field",
            HorseName = "Juniper",
            Sentences =
            [
                "Juniper's back has become wider on the left since the saddle was set on 12 Jun 2026.",
                "The left side now falls away by about 5° less than it did then; 4° is where we look again.",
            ],
            Numbers =
            [
                new("Left side of the back", "47.2° ± 1.9", "42.1° on 12 Jun 2026"),
                new("Right side of the back", "44.0° ± 1.8", "44.4° on 12 Jun 2026"),
            ],
            Chart = Chart,
            Back = Back,
            Answers = new(
                "https://practice.example/a/7Yx?answer=book&t=1",
                "https://practice.example/a/7Yx?answer=later",
                "https://practice.example/a/7Yx?answer=no"
            ),
            Link = new("Open Juniper's history", "https://practice.example/s/9Qz"),
            UnsubscribeUrl = "https://practice.example/u/4Tr",
        };

    public static LetterModel German { get; } =
        English with
        {
            Language = ReportLanguage.For("de"),
            PracticeName = "Sattelpraxis an der Furt (erfunden)",
            PracticeContact = "Telefon 01234 567890",
            RecipientName = "Robin Feld",
            HorseName = "Wacholder",
            Sentences =
            [
                "Wacholders Rücken ist links breiter geworden, seit der Sattel am 12. Juni 2026 eingestellt wurde.",
                "Die linke Seite fällt jetzt um etwa 5° weniger ab als damals; ab 4° sehen wir wieder nach.",
            ],
            Numbers = [new("Linke Seite des Rückens", "47,2° ± 1,9", "42,1° am 12. Juni 2026")],
            Link = new("Wacholders Verlauf öffnen", "https://practice.example/s/9Qz"),
            Chart = LetterImage.From(
                "chart",
                TrendChart.Draw(
                    Samples.OneSide with
                    {
                        Finding = "Die linke Seite des Rückens ist seit Juni um 5,1° flacher geworden.",
                        Subject = "Wacholder: linke Seite hinter der Schulter",
                        SaddleWork = [new(Samples.Set, "Sattel eingestellt", IsBaseline: true), new(new(2025, 12, 3), "Polster erneuert")],
                        Spans = [new(new(2026, 1, 10), new(2026, 3, 20), SpanKind.LayOff, "Pause")],
                        Language = ReportLanguage.For("de"),
                    },
                    ChartTheme.Light,
                    ChartSize.Letter
                )
            ),
            Back = LetterImage.From(
                "back",
                BackPicture.Draw(
                    new(
                        SampleBacks.Now with
                        {
                            Label = "jetzt",
                        },
                        SampleBacks.Then with
                        {
                            Label = "als der Sattel im Juni eingestellt wurde",
                        }
                    )
                    {
                        Language = ReportLanguage.For("de"),
                    },
                    ChartTheme.Light,
                    BackPicture.Size
                )
            ),
        };

    public static LetterModel Week { get; } =
        English with
        {
            RecipientName = "Sam Rivers",
            HorseName = "",
            Sentences = ["Two answers came in since last week, and one letter could not be delivered."],
            Date = new(2026, 11, 23),
            Groups =
            [
                new(
                    "Needs setting again",
                    [
                        new(
                            "Juniper",
                            "Left shoulder +5.1° ± 1.9 since 12 Jun 2026, threshold 4°.",
                            "since 25 Nov",
                            "Robin Field told 25 Nov, no answer yet"
                        )
                        {
                            Url = "https://practice.example/h/1",
                        },
                        new(
                            "Pebble",
                            "Half area on both sides +11 % since 3 Feb 2026, threshold 8 %.",
                            "since 12 Nov",
                            "Owner booked for 2 Dec"
                        )
                        {
                            Url = "https://practice.example/h/2",
                        },
                    ]
                ),
                new(
                    "Measure again",
                    [
                        new(
                            "Quill",
                            "Last visit 214 days ago; the uncertainty is larger than the threshold.",
                            "due 30 Nov",
                            "Letter bounced 20 Nov"
                        )
                        {
                            Url = "https://practice.example/h/3",
                        },
                    ]
                ),
                new("To the vet first", []),
            ],
            Link = new("Open the caseload", "https://practice.example/caseload"),
        };

    public static LetterModel Day { get; } =
        Week with
        {
            Date = new(2026, 11, 26),
            Sentences = [],
            Groups =
            [
                new(
                    "9:30 Lower Barn",
                    [
                        new(
                            "Juniper",
                            "Set the saddle again: left side +5.1°. Bring gauge A to H.",
                            "1 h",
                            "Quiet; needs a holder on the near side."
                        ),
                        new("Moss", "Check by the calendar; young horse.", "45 min"),
                    ]
                )
                {
                    Note = "12 Mill Lane, gate code with the yard",
                },
                new("13:00 Hill Yard", [new("Quill", "Measure again: the last tracing had a gap on the right.", "45 min")]),
            ],
        };

    public static LetterModel Of(LetterKind kind, ReportLanguage language)
    {
        var base_ = language == ReportLanguage.For("de") ? German : English;
        return kind switch
        {
            LetterKind.ManagerDigest => Week with { Language = language, PracticeName = base_.PracticeName, Sentences = [] },
            LetterKind.FitterDay => Day with { Language = language, PracticeName = base_.PracticeName },
            _ => base_ with { Language = language },
        };
    }
}
