using BackHistory.Application.Imports;
using BackHistory.Application.Practices;
using BackHistory.History.Practices;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Accounts;
using BackHistory.Store.Imports;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Imports;

/// <summary>A workshop's own gauges come in from a table: a line a mark, a gauge whole or not at all.</summary>
public sealed class GaugeImportTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private const string Two =
        "Lehre;misst;Marke;Wert\nLange Lehre;Winkel;N;30,5\nKopfbreite;Weite auf 30 mm;1;9,8 cm\nLange Lehre;;M;35\n"
        + "Kopfbreite;;2;10,4 cm\nLange Lehre;;W;42°\n";

    private static readonly ImportPlan Plan = new(
        ImportKind.Gauges,
        new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["Lehre"] = "gauge",
            ["misst"] = "reads",
            ["Marke"] = "mark",
            ["Wert"] = "value",
        },
        DecimalMark: ","
    );

    [Fact]
    public async Task Gauges_come_in_whole_say_what_they_were_read_as_and_go_when_the_table_is_taken_back()
    {
        var practice = await acts.Found("gauges from a table");

        var trial = await acts.Tried(practice, "gauges", Two, Plan);
        Assert.Equal((new ImportCounts(5, 0, 0), 0), (trial.Counts, trial.Questions.Count));
        Assert.Equal(
            ["Lehre: Kopfbreite", "misst: Width 30 mm down", "Marke: 1", "Wert: 98 mm"],
            trial.Lines[1].Readings.Select(r => $"{r.Column}: {r.As}")
        );
        Assert.Empty((await Gauges(practice)).Values);
        var entered = await acts.Entered(practice, "gauges", Two, Plan);

        Assert.Equal(new ImportCounts(5, 0, 0), entered.Counts);
        var gauges = await Gauges(practice);
        Assert.Equal(["kopfbreite", "lange-lehre"], gauges.Keys);
        Assert.Equal(("slope", "deg"), (gauges["lange-lehre"].Measure, gauges["lange-lehre"].Unit));
        Assert.Equal([new GaugeMark("N", 0, 30.5), new("M", 1, 35), new("W", 2, 42)], gauges["lange-lehre"].Marks);
        Assert.Equal(("width@30", "mm"), (gauges["kopfbreite"].Measure, gauges["kopfbreite"].Unit));
        Assert.Equal([("1", 1, 98), ("2", 2, 104)], gauges["kopfbreite"].Marks.Select(m => (m.Name, m.Position, Math.Round(m.Value, 6))));
        Assert.Equal(new ImportCounts(0, 5, 0), (await acts.Entered(practice, "again", Two, Plan)).Counts);

        Assert.Equal(2, (await acts.Get<ImportRollback>().Foresee(practice.Name, entered.Id, default))!.Goes[MadeAs.Gauge]);
        Assert.Equal(new ImportCounts(5, 0, 0), (await acts.TakenBack(practice, entered)).TakenBack);
        Assert.All((await Gauges(practice)).Values, g => Assert.True(g.Retired));
        Assert.Equal(new ImportCounts(5, 0, 0), (await acts.Entered(practice, "anew", Two, Plan)).Counts);
        Assert.All((await Gauges(practice)).Values, g => Assert.Equal((false, 2), (g.Retired, g.Version)));
    }

    [Fact]
    public async Task Everything_that_is_wrong_is_said_at_its_cell_and_a_gauge_with_such_a_line_does_not_enter_in_part()
    {
        var practice = await acts.Found("gauges with faults");
        const string Table =
            "Lehre;misst;Marke;Wert\nLong;angle;1;thirty\nLong;width;;35\nLong;angle;3;42\nTurns;angle;1;30\nTurns;angle;2;28\n"
            + "Turns;angle;3;40\nMixed;angle;1;30 mm\nMixed;angle;2;40\nNameless;angle;1;30\n;angle;2;35\n"
            + "Nameless;angle;3;40\nWhole;angle;1;30\nWhole;angle;2;40\n";

        var entered = await acts.Entered(practice, "faulty", Table, Plan);

        Assert.Equal(new ImportCounts(2, 0, 11), entered.Counts);
        Assert.Equal(["whole"], (await Gauges(practice)).Keys);
        var refused = await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, LineVerdict.Refused, 0, 20, default);
        Assert.Equal(
            [
                "2: Wert not-a-number",
                "3: Marke empty-cell",
                "3: misst says-otherwise",
                "4:  gauge-not-whole",
                "5:  gauge-not-whole",
                "6: Wert bad-gauge",
                "7:  gauge-not-whole",
                "8: Wert wrong-unit",
                "9:  gauge-not-whole",
                "10:  gauge-not-whole",
                "11: Lehre empty-cell",
                "12:  gauge-not-whole",
            ],
            refused.SelectMany(l => l.Faults!.Select(f => $"{l.Line}: {f.Column} {f.Code}"))
        );
    }

    [Fact]
    public async Task A_gauge_that_stands_is_asked_about_and_is_as_it_was_answered()
    {
        var practice = await acts.Found("gauges that stand");
        await Enters(practice, "bench", "Long bar", 1, 2);
        const string Table = "Lehre;misst;Marke;Wert\nLongbar;angle;1;30\nLongbar;angle;2;41\n";

        var asked = Assert.Single((await acts.Tried(practice, "asked", Table, Plan)).Questions);
        Assert.Equal(("gauge:Longbar", "leave-out new-version another"), (asked.Of, string.Join(' ', asked.Answers)));
        var id = practice.Id("asked");
        Assert.Equal("unanswered", (await acts.Get<EnterImport>().Do(new(id, Plan), practice.By(PracticeRole.Manager), default))?.Code);

        var left = await acts.Entered(practice, "left", Table, Answered("leave-out"));
        Assert.Equal(new ImportCounts(0, 0, 2), left.Counts);
        var beside = await acts.Entered(practice, "beside", Table, Answered("another"));
        Assert.Equal(new ImportCounts(2, 0, 0), beside.Counts);
        Assert.Equal([("bench", 1), ("longbar", 1)], (await Gauges(practice)).Values.Select(g => (g.Key, g.Version)));
        await acts.TakenBack(practice, beside);
        var changed = await acts.Entered(practice, "changed", Table, Answered("new-version"));
        Assert.Equal(new ImportCounts(2, 0, 0), changed.Counts);
        Assert.Equal(
            ("Long bar", 2, 41),
            (await Gauges(practice))["bench"] is var now ? (now.Name, now.Version, now.Marks[1].Value) : default
        );

        // Taken back, the table that stood before stands again, as a version of its own.
        Assert.Equal(new ImportCounts(2, 0, 0), (await acts.TakenBack(practice, changed)).TakenBack);
        Assert.Equal(
            (false, 3, 2),
            (await Gauges(practice))["bench"] is var then ? (then.Retired, then.Version, then.Marks[1].Value) : default
        );

        ImportPlan Answered(string answer) =>
            Plan with
            {
                Answers = new Dictionary<string, string>(StringComparer.Ordinal) { ["gauge:Longbar"] = answer },
            };
    }

    [Fact]
    public async Task A_width_without_a_unit_is_asked_about_and_a_gauge_that_a_saddle_is_read_in_stays()
    {
        var practice = await acts.Found("gauges in use");
        const string Table = "Lehre;misst;Marke;Wert\nHead;width;1;9,8\nHead;width;2;10,4\n";
        Assert.Equal("lengthUnit", Assert.Single((await acts.Tried(practice, "asked", Table, Plan)).Questions).About);
        var entered = await acts.Entered(practice, "heads", Table, Plan with { LengthUnit = "cm" });
        Assert.Equal(98, (await Gauges(practice))["head"].Marks[0].Value, 1e-9);
        await practice.Yard.Saddle(acts.Time.Now, "GP-12", gauge: "head");

        var stays = (await acts.Get<ImportRollback>().Foresee(practice.Name, entered.Id, default))!.Stays;
        Assert.Equal("The settings of a saddle are read in it.", Assert.Single(stays).Why);
        Assert.Equal(new ImportCounts(0, 2, 0), (await acts.TakenBack(practice, entered)).TakenBack);
        Assert.False((await Gauges(practice))["head"].Retired);
    }

    private async Task Enters(TestPractice practice, string key, string name, params double[] values)
    {
        var marks = values.Select((v, i) => new GaugeMark($"{i + 1}", i + 1, v)).ToList();
        var given = new EnterGauge.Input(key, name, "slope", "deg", marks, "Bought.");
        Assert.Null((await acts.Get<EnterGauge>().Do(given, practice.By(PracticeRole.Manager), default)).Refused);
    }

    private async Task<IReadOnlyDictionary<string, GaugeTable>> Gauges(TestPractice practice) =>
        (await acts.Get<PracticeQueries>().Load(practice.Name, default))!.Gauges;
}
