using BackHistory.Reports.Sheets;
using BackHistory.Reports.Sheets.Content;
using BackHistory.Reports.Tests.Charts;

namespace BackHistory.Reports.Tests.Sheets;

/// <summary>Invented, like all samples.</summary>
static class SampleSheets
{
    public static SheetHead Head { get; } =
        new()
        {
            PracticeName = "Saddle Practice at the Ford (invented)",
            HorseName = "Juniper",
            Date = new(2026, 11, 25),
        };

    public static BenchTemplateInput Bench { get; } =
        new()
        {
            Head = Head,
            Station = "behind-shoulder",
            Curve = SampleBacks.NowWithGap,
        };

    static readonly ChangeRow[] Changes =
    [
        new("Slope of the left shoulder", "behind-shoulder", "42.1°", "47.2°", "+5.1° ± 1.9", "4°", "changed: check the saddle"),
        new("Slope of the right shoulder", "behind-shoulder", "44.4°", "44.0°", "−0.4° ± 1.8", "4°", "as it was set"),
        new("Half area to 100 mm, left", "mid-back", "92.0 cm²", "92.4 cm²", "+0.4 ± 4.1 cm²", "8 %", "as it was set"),
        new("Half area to 100 mm, right", "mid-back", "90.1 cm²", "82.5 cm²", "−7.6 ± 4.0 cm²", "8 %", "changed: check the saddle"),
        new("Topline drop", "", "34 mm", "42 mm", "+8 ± 11 mm", "15 mm", "moving"),
    ];

    public static SettingSheetInput Setting { get; } =
        new()
        {
            Head = Head,
            Saddle = "No 117, adjustable tree, wool flocked",
            Proposal = "Open the left by one mark and a half; leave the right.",
            Gauge = "Workshop gauge, marks A to H",
            Rows =
            [
                new("Tree, left", "42.1°", "47.2°", "+5.1° ± 1.9", "E½", "F", "−1.4°"),
                new("Tree, right", "42.4°", "42.0°", "−0.4° ± 1.8", "D", "D", "0.0°"),
                new("Panel, front to back", "2.1° up", "1.4° up", "−0.7° ± 0.9", "–", "–", "–"),
            ],
            Notes =
            [
                "The muscles meet 96 mm out and 71 mm down on the left, 95 mm out and 74 mm down on the right.",
                "Stood level and square; not ridden before; held by R. Field.",
            ],
            CannotBeSaid = ["The flocking: no reading of the panel since June.", "The right below 130 mm: a gap of 39 mm in the tracing."],
            Chart = SampleStudies.Gauge,
        };

    public static ComparisonReportInput Comparison { get; } =
        new()
        {
            Head = Head,
            Finding = "The left shoulder has opened and the right of the back has hollowed since the saddle was set on 12 Jun 2026.",
            Changes = Changes,
            Trends = [Samples.BothSides],
            Sections =
            [
                new()
                {
                    Finding = "The right has hollowed 60 to 120 mm below the midline.",
                    Subject = "behind-shoulder",
                    Curves = [SampleBacks.Then, SampleBacks.NowWithGap],
                },
                new()
                {
                    Finding = "Right against left now.",
                    Subject = "behind-shoulder",
                    Curves = [SampleBacks.NowWithGap],
                    MirrorLeftOnRight = true,
                },
            ],
            Topline = new()
            {
                Finding = "The topline has dropped by 8 mm.",
                Subject = "Juniper",
                Curves = [SampleBacks.Topline("12 Jun 2026", 30), SampleBacks.Topline("25 Nov 2026", 40)],
            },
        };

    public static VetReportInput Vet { get; } =
        new()
        {
            Head = Head,
            Finding = Samples.Condition.Finding,
            Horse = "Gelding, 14 years, 160 cm, ridden five days a week",
            Condition = Samples.Condition,
            Changes = Changes,
            History =
            [
                new(new(2026, 7, 1), "Cough, 18 days, rested"),
                new(Samples.Set, "Saddle set to the visit of that day"),
                new(new(2026, 1, 10), "Lay-off until 20 Mar 2026"),
            ],
            Method =
            [
                "Flexible-curve tracings at marked stations, two a visit, by two people; noise between visits 1.8° of slope (the "
                    + "practice's own repeats, 14 degrees of freedom).",
            ],
        };
}
