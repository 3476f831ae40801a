using System.Text;
using BackHistory.Application.Imports;
using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Tests.Imports;

/// <summary>What a line means, by its mapping and what is known by name.</summary>
public sealed class RowMapperTests
{
    private static readonly Guid Sender = DeterministicId.From("sender");
    private static readonly KnownNames Nobody = new([], [], [], []);

    [Fact]
    public void A_line_is_the_same_thing_whichever_file_it_comes_in_and_another_once_an_import_was_taken_back()
    {
        const string Table = "Name\nBramble\n";
        var (one, again) = (Horse(Table, generation: 0, file: "one"), Horse(Table, generation: 0, file: "again"));
        var later = Horse(Table, generation: 1, file: "one");
        Assert.Equal(one.HorseId, again.HorseId);
        Assert.NotEqual(one.HorseId, later.HorseId);

        Application.Horses.EnterHorse.Input Horse(string table, int generation, string file) =>
            (
                (LineStep.Register)Assert.Single(Steps(table, Plan(ImportKind.Horses, ("Name", "name")), Nobody, generation, file)).Step!
            ).Given;
    }

    [Fact]
    public void A_horse_that_stands_twice_in_a_table_is_made_once()
    {
        var steps = Steps("Name\nBramble\n bramble \nThistle\n", Plan(ImportKind.Horses, ("Name", "name")), Nobody);
        Assert.Equal(["Register", null, "Register"], steps.Select(s => s.Step?.GetType().Name));
        Assert.All(steps, s => Assert.Null(s.Line.Refused));
    }

    [Theory]
    [InlineData("Bram\u202Eble")]
    [InlineData("Bramble\uFFFE")]
    [InlineData("Bram\u0085ble")]
    public void What_no_form_takes_as_a_text_no_cell_brings_in(string name)
    {
        var step = Assert.Single(Steps($"Name\n{name}\n", Plan(ImportKind.Horses, ("Name", "name")), Nobody));
        Assert.Null(step.Step);
        Assert.Equal(("unreadable", "Name"), (step.Line.Refused!.Code, step.Line.Column));
    }

    [Fact]
    public void A_name_that_two_people_have_is_refused_and_not_guessed()
    {
        var names = Nobody with { People = [Person("Robin Field", 1), Person("robin field", 2)] };
        var step = Assert.Single(
            Steps("Name,Owner\nBramble,Robin Field\n", Plan(ImportKind.Horses, ("Name", "name"), ("Owner", "owner")), names)
        );
        Assert.Null(step.Step);
        Assert.Equal(("several-of-that-name", "Owner"), (step.Line.Refused!.Code, step.Line.Column));
    }

    [Fact]
    public void Of_several_horses_of_one_name_the_day_of_birth_tells_which()
    {
        var (old, young) = (DeterministicId.From("old"), DeterministicId.From("young"));
        var names = Nobody with
        {
            Horses = [new(old, "Bramble", new DateOnly(2010, 5, 1), null), new(young, "Bramble", new DateOnly(2018, 5, 1), null)],
        };
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Foaled", "foaled"),
            ("Day", "date"),
            ("With", "method"),
            ("Score", "condition")
        ) with
        {
            DateFormat = "yyyy-MM-dd",
        };
        var steps = Steps("Horse,Foaled,Day,With,Score\nBramble,2018-05-01,2025-05-01,eye,5\nBramble,,2025-05-01,eye,5\n", plan, names);
        Assert.Equal(young, ((LineStep.Measured)steps[0].Step!).HorseId);
        Assert.Equal("several-horses", steps[1].Line.Refused!.Code);
    }

    /// <summary>Summer time in Berlin: noon there is ten in Greenwich.</summary>
    [Fact]
    public void A_visit_of_a_day_is_taken_at_noon_where_the_practice_is_and_lines_of_that_day_are_one_visit()
    {
        var names = Nobody with { Horses = [new(DeterministicId.From("bramble"), "Bramble", null, null)] };
        var plan = Plan(ImportKind.Visits, ("Horse", "horse"), ("Day", "date"), ("With", "method"), ("Score", "condition")) with
        {
            DateFormat = "yyyy-MM-dd",
            DecimalMark = ".",
        };
        var visits = Steps(
                "Horse,Day,With,Score\nBramble,2025-05-01,eye,5\nBramble,2025-05-01,eye,5.5\nBramble,2025-05-02,eye,5\n",
                plan,
                names
            )
            .Select(s => ((LineStep.Measured)s.Step!).Visit)
            .ToList();
        Assert.Equal(new DateTimeOffset(2025, 5, 1, 10, 0, 0, TimeSpan.Zero), visits[0].TakenAt.ToUniversalTime());
        Assert.Equal(Sender, visits[0].By);
        Assert.Equal(visits[0].VisitId, visits[1].VisitId);
        Assert.NotEqual(visits[0].VisitId, visits[2].VisitId);
        Assert.Equal(3, visits.SelectMany(v => v.Entries).Select(e => e.EntryId).Distinct().Count());
    }

    [Theory]
    [InlineData("hands", "15.2", 1575)]
    [InlineData("cm", "157.5", 1575)]
    [InlineData("in", "62", 1575)]
    [InlineData("mm", "15.2 hh", 1575)]
    [InlineData("hands", "157,5 cm", null)]
    [InlineData("hands", "15.4", null)]
    public void A_height_is_read_in_the_unit_that_it_names_or_else_in_the_one_that_was_answered(string unit, string text, int? millimetres)
    {
        var plan = Plan(ImportKind.Horses, ("Name", "name"), ("Height", "height")) with { LengthUnit = unit, DecimalMark = "." };
        var step = Assert.Single(Steps($"Name;Height\nBramble;{text}\n", plan, Nobody));
        Assert.Equal(millimetres, (step.Step as LineStep.Register)?.Given.Details.HeightMm);
        Assert.Equal(millimetres is null, step.Line.Refused is not null);
    }

    [Fact]
    public void A_girth_by_tape_without_the_length_beside_it_is_refused()
    {
        var names = Nobody with { Horses = [new(DeterministicId.From("bramble"), "Bramble", null, null)] };
        var plan = Plan(ImportKind.Visits, ("Horse", "horse"), ("Day", "date"), ("With", "method"), ("Girth", "girth")) with
        {
            DateFormat = "yyyy-MM-dd",
            LengthUnit = "cm",
        };
        var step = Assert.Single(Steps("Horse,Day,With,Girth\nBramble,2025-05-01,tape,185\n", plan, names));
        Assert.Equal(("no-length", "Girth"), (step.Line.Refused!.Code, step.Line.Column));
    }

    [Fact]
    public void Everything_that_is_wrong_with_a_line_is_said_at_once_with_its_column_its_value_and_whose_it_is()
    {
        var names = Nobody with { Horses = [new(DeterministicId.From("bramble"), "Bramble", null, null)] };
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("With", "method"),
            ("Kg", "weight"),
            ("Score", "condition"),
            ("Girth", "girth")
        ) with
        {
            DateFormat = "yyyy-MM-dd",
            WeightUnit = "kg",
            LengthUnit = "cm",
        };
        var line = Assert.Single(Steps("Horse,Day,With,Kg,Score,Girth\nBramble,31.02.2015,,51200,eleven,185\n", plan, names)).Line;
        Assert.Equal("Bramble", line.Raw("horse"));
        Assert.Equal(
            [
                ("Day", "31.02.2015", "not-a-date"),
                ("With", null, "empty-cell"),
                ("Score", "eleven", "not-a-number"),
                ("Girth", "185", "no-length"),
                ("Kg", "51200", "implausible-weight"),
            ],
            line.Faults((_, _) => true).Select(f => (f.Column, f.Value, f.Code))
        );
        Assert.All(line.Faults((_, _) => true), f => Assert.NotEmpty(f.Message));
        Assert.All(line.Faults((_, _) => false), f => Assert.Null(f.Value));
    }

    [Fact]
    public void A_German_table_is_read_by_its_own_words_and_says_what_was_made_of_them()
    {
        var columns = new[] { ("Name", "name"), ("Geschlecht", "sex"), ("Stockmaß", "height"), ("geboren", "foaled") };
        var plan = Plan(ImportKind.Horses, columns) with { DecimalMark = ",", LengthUnit = "m", DateFormats = ["dd.MM.yyyy"] };

        var (line, step) = Assert.Single(Steps("Name;Geschlecht;Stockmaß;geboren\nRöschen;Stute;1,62;12.04.2014\n", plan, Nobody));

        Assert.Null(line.Refused);
        var details = ((LineStep.Register)step!).Given.Details;
        Assert.Equal((Sex.Mare, 1620, new DateOnly(2014, 4, 12)), (details.Sex, details.HeightMm, details.Foaled));
        Assert.Equal(
            ["Name: Röschen", "Geschlecht: mare", "Stockmaß: 1620 mm", "geboren: 12 April 2014"],
            line.Readings.Select(r => $"{r.Column}: {r.As}")
        );
    }

    [Theory]
    [InlineData("de")]
    [InlineData("German")]
    [InlineData("deutsch")]
    public void A_language_is_called_by_its_tag_or_by_its_name_in_English_or_in_itself(string called)
    {
        var plan = Plan(ImportKind.People, ("Who", "name"), ("Letters", "language"));
        var step = Assert.Single(Steps($"Who,Letters\nRobin Field,{called}\n", plan, Nobody)).Step;
        Assert.Equal("de", ((Person)((LineStep.Keep)step!).Document).Language);
    }

    [Fact]
    public void A_height_in_the_wrong_unit_says_what_was_made_of_it_and_a_word_of_no_language_which_are_known()
    {
        var plan = Plan(ImportKind.Horses, ("Name", "name"), ("Sex", "sex"), ("Height", "height")) with
        {
            DecimalMark = ",",
            LengthUnit = "cm",
        };
        var line = Assert.Single(Steps("Name;Sex;Height\nBramble;Hannoveraner;1,62\n", plan, Nobody)).Line;
        Assert.Equal(
            [
                "Known here: mare or Stute, gelding or Wallach, stallion or Hengst.",
                "This was read as 16 mm, which is no horse's height. Choose another unit, or write the unit into the cell.",
            ],
            line.Faults((_, _) => true).Select(f => f.Message)
        );
    }

    [Fact]
    public void A_visit_of_an_old_table_brings_its_tracing_and_its_topline_with_its_marks()
    {
        var names = new KnownNames([OneHorse("Bramble")], [], [], []);
        var section = string.Join("; ", Enumerable.Range(-12, 25).Select(i => FormattableString.Invariant($"{i * 10} {-i * i / 2}")));
        var along = string.Join(
            " | ",
            Enumerable
                .Range(0, 22)
                .Select(i =>
                    FormattableString.Invariant($"{i * 20} {-i}")
                    + (
                        i == 0 ? " behind-shoulder"
                        : i == 21 ? " last-rib"
                        : ""
                    )
                )
        );
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("How", "method"),
            ("At", "station"),
            ("Line", "tracing"),
            ("Along", "topline")
        ) with
        {
            DateFormats = ["dd.MM.yyyy"],
        };
        var rows = $"Horse,Day,How,At,Line,Along\nBramble,03.03.2024,flexible-curve,mid-back,{section},{along}\n";

        var (line, step) = Assert.Single(Steps(rows, plan, names));

        Assert.Null(line.Refused);
        var traced = ((LineStep.Measured)step!).Visit.Entries.Cast<TracingEntry>().ToList();
        Assert.Equal(["mid-back", null], traced.Select(t => t.Tracing.Station));
        Assert.Equal([25, 22], traced.Select(t => t.Tracing.Points.Length));
        Assert.Equal(["behind-shoulder", "last-rib"], traced[1].Tracing.Marks.Keys.Order());
        Assert.Equal(
            ["Line: a line of 25 points", "Along: a line of 22 points"],
            line.Readings.TakeLast(2).Select(r => $"{r.Column}: {r.As}")
        );
    }

    [Theory]
    [InlineData("12", "not-points")]
    [InlineData("1 2; drei vier", "not-points")]
    [InlineData("1 2 a; 3 4 a", "not-points")]
    [InlineData("1.5 2; 3 4", "unanswered")]
    public void A_cell_that_is_no_traced_line_says_how_one_is_written(string cell, string code)
    {
        var names = new KnownNames([OneHorse("Bramble")], [], [], []);
        var plan = Plan(ImportKind.Visits, ("Horse", "horse"), ("Day", "date"), ("How", "method"), ("At", "station"), ("Line", "tracing"));
        var rows = $"Horse,Day,How,At,Line\nBramble,2024-03-03,flexible-curve,mid-back,{cell}\n";
        var line = Assert.Single(Steps(rows, plan with { DateFormats = ["yyyy-MM-dd"] }, names)).Line;
        Assert.Contains(code, line.Faults((_, _) => true).Select(f => f.Code));
    }

    [Fact]
    public void Every_column_that_is_no_reading_has_names_and_every_word_is_of_one_value()
    {
        var fields = ImportFields.Of.Values.SelectMany(f => f).Select(f => f.Key).Distinct().ToList();
        var read = Readings.All.Select(r => r.Key).Concat(ImportFields.Pairs.Keys);
        Assert.All(fields.Except(read), f => Assert.NotEmpty(ImportWords.NamesOf(f)));
        foreach (var kind in ImportFields.Of)
        {
            var twice = kind
                .Value.SelectMany(f => ImportWords.NamesOf(f.Key))
                .GroupBy(n => n, StringComparer.OrdinalIgnoreCase)
                .Where(n => n.Count() > 1);
            Assert.Empty(twice.Select(n => $"{kind.Key}: {n.Key}"));
        }

        Once("sex", Enum.GetNames<Sex>());
        Once("role", Enum.GetNames<PersonRole>());
        Once("what", ["set", "altered"]);
        Once("reads", MeasureViews.Gauge);
        Once("unit", ["deg", .. GaugeMarkLine.Lengths]);

        static void Once(string field, IReadOnlyList<string> values)
        {
            Assert.All(values, v => Assert.NotEmpty(ImportWords.WordsOf(field, v)));
            Assert.Empty(
                values
                    .SelectMany(v => ImportWords.WordsOf(field, v))
                    .GroupBy(w => w, StringComparer.OrdinalIgnoreCase)
                    .Where(w => w.Count() > 1)
                    .Select(w => w.Key)
            );
        }
    }

    [Fact]
    public void A_person_with_a_wrong_address_and_a_wrong_telephone_is_told_both()
    {
        var plan = Plan(ImportKind.People, ("Who", "name"), ("Mail", "email"), ("Tel", "phone"), ("Part", "role"));
        var line = Assert.Single(Steps($"Who,Mail,Tel,Part\nRobin Field,no address,{new string('7', 41)},dentist\n", plan, Nobody)).Line;
        Assert.Equal(["unknown-word", "bad-email", "long-phone"], line.Faults((_, _) => true).Select(f => f.Code));
    }

    [Theory]
    [InlineData("read-slope-left/right", 32, 34)]
    [InlineData("read-slope-right/left", 34, 32)]
    public void A_cell_of_two_values_is_the_left_and_the_right_of_one_reading_in_the_order_that_was_said(
        string field,
        double left,
        double right
    )
    {
        var entries = Slopes("32/34", field).Step!.Visit.Entries.Cast<ReadingEntry>().ToDictionary(e => e.Measure, e => e.Value);
        Assert.Equal((left, right), (entries[Readings.SlopeLeft], entries[Readings.SlopeRight]));
    }

    [Theory]
    [InlineData("32 / -", 32.0, null)]
    [InlineData("/34,5", null, 34.5)]
    public void A_side_that_was_not_taken_is_not_entered(string cell, double? left, double? right)
    {
        var entries = Slopes(cell, "read-slope-left/right").Step!.Visit.Entries.Cast<ReadingEntry>().ToList();
        Assert.Equal(left, entries.SingleOrDefault(e => e.Measure == Readings.SlopeLeft)?.Value);
        Assert.Equal(right, entries.SingleOrDefault(e => e.Measure == Readings.SlopeRight)?.Value);
    }

    [Theory]
    [InlineData("32")]
    [InlineData("32/33/34")]
    [InlineData("-/-")]
    public void What_is_no_pair_is_refused_once_and_not_guessed(string cell)
    {
        var line = Slopes(cell, "read-slope-left/right").Line;
        Assert.Equal(
            ("Slopes", cell, "not-a-pair"),
            Assert.Single(line.Faults((_, _) => true)) is var f ? (f.Column, f.Value, f.Code) : default
        );
    }

    [Fact]
    public void A_side_cannot_stand_in_two_columns()
    {
        var (sheet, _) = Sheet.Read("Horse,Day,With,Both,Left\nBramble,2025-05-01,x,32/34,32\n"u8.ToArray(), null);
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("With", "method"),
            ("Both", "read-slope-left/right"),
            ("Left", "read-slope-left")
        );
        Assert.Equal("field-twice", SheetLine.Columns(sheet!, plan).Refused?.Code);
    }

    private static (SheetLine Line, LineStep.Measured? Step) Slopes(string cell, string field)
    {
        var names = Nobody with { Horses = [new(DeterministicId.From("bramble"), "Bramble", null, null)] };
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("With", "method"),
            ("Station", "station"),
            ("Slopes", field)
        ) with
        {
            DateFormat = "yyyy-MM-dd",
            DecimalMark = ",",
        };
        var table = $"Horse;Day;With;Station;Slopes\nBramble;2025-05-01;inclinometer;shoulder;{cell}\n";
        var (line, step) = Assert.Single(Steps(table, plan, names));
        return (line, step as LineStep.Measured);
    }

    [Fact]
    public void A_table_asserts_nothing_of_the_ground_and_of_how_the_horse_stood() =>
        Assert.Equal(
            (null, null),
            Slopes("32/34", "read-slope-left/right").Step!.Visit.Conditions is var c ? (c.LevelGround, c.StoodSquare) : default
        );

    /// <summary>The one who was meant was withdrawn, merged or erased between the answer and the entering.</summary>
    [Theory]
    [InlineData(ImportKind.People, "name", "person")]
    [InlineData(ImportKind.Yards, "name", "yard")]
    [InlineData(ImportKind.Horses, "name", "horse")]
    [InlineData(ImportKind.Saddles, "label", "saddle")]
    public void A_name_that_was_said_to_be_one_who_is_gone_makes_nothing_new(ImportKind kind, string field, string thing)
    {
        var plan = Plan(kind, ("Name", field)) with { Answers = Answer($"{thing}:Mueller Anna", DeterministicId.From("gone")) };
        var steps = Steps("Name\nMueller Anna\nMUELLER ANNA\nBen Ford\n", plan, Nobody);
        Assert.Equal([null, null, "set"], steps.Select(s => s.Step is null ? null : "set"));
        Assert.Equal(("answer-gone", "Name"), (steps[0].Line.Refused?.Code, steps[0].Line.Column));
        Assert.Equal("answer-gone", steps[1].Line.Refused?.Code);
        Assert.Null(steps[2].Line.Refused);
    }

    [Fact]
    public void An_owner_or_a_horse_that_was_said_to_be_one_who_is_gone_is_not_taken_for_another_of_that_name()
    {
        var gone = DeterministicId.From("gone");
        var names = Nobody with
        {
            People = [Person("Robin Field", 1)],
            Horses = [new(DeterministicId.From("bramble"), "Bramble", null, null)],
        };
        var owned = Plan(ImportKind.Horses, ("Name", "name"), ("Owner", "owner")) with { Answers = Answer("person:Robin Field", gone) };
        var line = Assert.Single(Steps("Name,Owner\nThistle,Robin Field\n", owned, names)).Line;
        Assert.Equal(("answer-gone", "Owner"), (line.Refused?.Code, line.Column));
        var visits = Plan(ImportKind.Visits, ("Horse", "horse"), ("Day", "date"), ("With", "method"), ("Score", "condition")) with
        {
            DateFormat = "yyyy-MM-dd",
            Answers = Answer("horse:Bramble", gone),
        };
        line = Assert.Single(Steps("Horse,Day,With,Score\nBramble,2025-05-01,eye,5\n", visits, names)).Line;
        Assert.Equal(("answer-gone", "Horse"), (line.Refused?.Code, line.Column));
    }

    [Fact]
    public void A_fault_that_cannot_be_left_out_is_said_once_and_the_others_are_found_before_it()
    {
        var faults = RowMapper.Faults(
            (Name: "", Zone: "?"),
            details => new Refused("bad", "Bad.", Place: details.Name.Length == 0 ? "name" : "zone"),
            (details, place) => place == "name" ? details with { Name = "x" } : details
        );
        Assert.Equal(["name", "zone"], faults.Take(5).Select(f => f.Place));
    }

    [Fact]
    public void Work_on_a_saddle_is_of_its_day_and_says_what_the_table_says()
    {
        var names = new KnownNames([OneHorse("Bramble")], [OneSaddle("GP-12")], [], []);
        var line = "gp-12,Bramble,2024-05-01,Set,2,3,Slipped to the left.\n";
        var steps = Steps($"Saddle,Horse,Day,What,Left,Right,Note\n{line}{line}", WorkPlan, names);

        var step = Assert.IsType<LineStep.Worked>(steps[0].Step);
        Assert.Equal((OneSaddle("GP-12").Id, true, false), (step.SaddleId, step.Work.Set, step.Work.Fresh));
        Assert.Equal(
            [new("tree", "left", null, "2"), new("tree", "right", null, "3"), new(Adjustment.Note, null, null, "Slipped to the left.")],
            step.Work.Done
        );
        Assert.Equal(new DateTimeOffset(2024, 5, 1, 12, 0, 0, TimeSpan.FromHours(2)), step.Work.TakenAt);
        Assert.Equal(step.Work.WorkId, Assert.IsType<LineStep.Worked>(steps[1].Step).Work.WorkId);
    }

    [Fact]
    public void Everything_that_is_wrong_with_a_line_of_saddle_work_is_said_at_once()
    {
        var names = new KnownNames([OneHorse("Bramble")], [OneSaddle("GP-12")], [], []);
        var table = $"Saddle,Horse,Day,What,Left,Right,Note\nGP-13,Thistle,31.02.2024,turned,,,{new string('x', 401)}\n";
        var line = Assert.Single(Steps(table, WorkPlan, names)).Line;

        Assert.Equal(
            ["Saddle no-such-saddle", "Horse no-such-horse", "Day not-a-date", "What unknown-word", "Note bad-adjustment"],
            line.Faults((_, _) => true).Select(f => $"{f.Column} {f.Code}")
        );
    }

    [Fact]
    public void A_saddle_that_is_not_known_is_asked_and_said_to_be_none_its_lines_are_left_out()
    {
        var names = new KnownNames([OneHorse("Bramble")], [OneSaddle("GP-12"), OneSaddle("Jump 4")], [], []);
        const string Table = "Saddle,Horse,Day,What,Left,Right,Note\nGP12,Bramble,2024-05-01,set,2,3,\nGP-12,Bramble,2024-06-01,set,2,3,\n";
        var (sheet, _) = Sheet.Read(Encoding.UTF8.GetBytes(Table), null);
        var (columns, _) = SheetLine.Columns(sheet!, WorkPlan);
        var asked = Assert.Single(new ValueQuestions(WorkPlan, names, []).QuestionsFor(sheet!, columns!));
        Assert.Equal(("saddle:GP12", OneSaddle("GP-12").Id.ToString(), 3), (asked.Of, asked.Answers[0], asked.Answers.Count));

        var same = WorkPlan with { Answers = Answer("saddle:GP12", OneSaddle("GP-12").Id) };
        Assert.All(Steps(Table, same, names), s => Assert.Equal(OneSaddle("GP-12").Id, Assert.IsType<LineStep.Worked>(s.Step).SaddleId));
        var none = WorkPlan with
        {
            Answers = new Dictionary<string, string>(StringComparer.Ordinal) { ["saddle:GP12"] = ImportAnswers.LeaveOut },
        };
        Assert.Equal("left-out", Steps(Table, none, names)[0].Line.Refused?.Code);
    }

    /// <summary>What would become of a line is seen before it is entered, whatever it is a line of.</summary>
    [Fact]
    public void A_line_of_every_kind_says_what_its_cells_were_taken_for()
    {
        var names = new KnownNames(
            [OneHorse("Bramble") with { Foaled = new DateOnly(2014, 4, 12) }],
            [OneSaddle("GP-12")],
            [Person("Robin Field", 1)],
            [new Yard(DeterministicId.From("barn"), "Lower Barn", "Ford")]
        );
        string[] said =
        [
            Said(ImportKind.People, names, "name=Ada Marsh", "role=Tierarzt", "language=de"),
            Said(ImportKind.Yards, names, "name=Upper Barn", "town=Ford"),
            Said(ImportKind.Horses, names, "name=Thistle", "owner=robin field", "yard=lower barn"),
            Said(ImportKind.Saddles, names, "label=GP-13", "tree=spring"),
            Said(
                ImportKind.Visits,
                names,
                "horse=bramble",
                "date=2024-05-01",
                "method=inclinometer",
                "station=Mid Back",
                "read-slope-left/right=32/34.50"
            ),
            Said(ImportKind.SaddleWork, names, "saddle=gp-12", "horse=Bramble", "date=2024-05-01", "what=gestellt", "left=2"),
        ];

        Assert.Equal(
            [
                "name: Ada Marsh; role: veterinarian; language: German",
                "name: Upper Barn; town: Ford",
                "name: Thistle; owner: Robin Field, 1@people.invalid; yard: Lower Barn, Ford",
                "label: GP-13; tree: spring",
                "horse: Bramble, born 2014; date: 1 May 2024; method: inclinometer; station: mid-back; "
                    + "read-slope-left/right: left 32, right 34.5",
                "saddle: GP-12; horse: Bramble, born 2014; date: 1 May 2024; what: set; left: 2",
            ],
            said
        );

        static string Said(ImportKind kind, KnownNames names, params string[] cells)
        {
            var fields = cells.Select(c => c.Split('=')).ToList();
            var plan = Plan(kind, [.. fields.Select(f => (f[0], f[0]))]) with { DateFormat = "yyyy-MM-dd", DecimalMark = "." };
            var table = $"{string.Join(';', fields.Select(f => f[0]))}\n{string.Join(';', fields.Select(f => f[1]))}\n";
            var line = Assert.Single(Steps(table, plan, names)).Line;
            return string.Join("; ", line.Readings.Select(r => $"{r.Column}: {r.As}"));
        }
    }

    private static readonly ImportPlan WorkPlan = Plan(
        ImportKind.SaddleWork,
        ("Saddle", "saddle"),
        ("Horse", "horse"),
        ("Day", "date"),
        ("What", "what"),
        ("Left", "left"),
        ("Right", "right"),
        ("Note", "note")
    ) with
    {
        DateFormat = "yyyy-MM-dd",
    };

    private static KnownHorse OneHorse(string name) => new(DeterministicId.From("horse", name), name, null, null);

    private static KnownSaddle OneSaddle(string label) => new(DeterministicId.From("saddle", label), label);

    private static Dictionary<string, string> Answer(string of, Guid id) => new(StringComparer.Ordinal) { [of] = id.ToString() };

    [Fact]
    public void What_is_wrong_with_a_plan_is_said_in_the_words_of_its_fields()
    {
        var (sheet, _) = Sheet.Read("Horse,Left,Also left\nBramble,32,33\n"u8.ToArray(), null);
        var twice = Plan(ImportKind.Visits, ("Left", "read-slope-left"), ("Also left", "read-slope-left"));
        Assert.Equal(
            $"Two columns are said to be {Readings.All.Single(r => r.Key == Readings.SlopeLeft).Says}. Leave one of them out.",
            SheetLine.Columns(sheet!, twice).Refused?.Message
        );
        Assert.Equal(
            "Say which column is the horse's name.",
            SheetLine.Columns(sheet!, Plan(ImportKind.Visits, ("Left", "read-slope-left"))).Refused?.Message
        );
    }

    private static List<(SheetLine Line, LineStep? Step)> Steps(
        string table,
        ImportPlan plan,
        KnownNames names,
        int generation = 0,
        string file = "file"
    )
    {
        var (sheet, unreadable) = Sheet.Read(Encoding.UTF8.GetBytes(table), null);
        Assert.Null(unreadable);
        var (columns, bad) = SheetLine.Columns(sheet!, plan);
        Assert.Null(bad);
        var import = new Import(DeterministicId.From(file), file, generation, PracticeActs.Began, Sender) { Plan = plan };
        var founded = new PracticeFounded(DeterministicId.From("practice"), "Practice", "Europe/Berlin", false, PracticeActs.Began, Sender);
        var reader = new CellReader(plan);
        var lines = sheet!.Rows.Select(r => new SheetLine(r, columns!, reader)).ToList();
        var mapper = new RowMapper("practice", Practice.After(null, founded)!, import, names, PracticeActs.Began.AddYears(1), lines);
        return [.. lines.Select(l => (l, mapper.Make(l)))];
    }

    private static Person Person(string name, int number) =>
        new(DeterministicId.From(name, $"{number}"), name, $"{number}@people.invalid", null, null, PersonRole.Owner);

    private static ImportPlan Plan(ImportKind kind, params (string Header, string Field)[] columns) =>
        new(kind, columns.ToDictionary(c => c.Header, c => c.Field, StringComparer.Ordinal));
}
