using System.Text;
using BackHistory.Application.Horses;
using BackHistory.Application.Imports;
using BackHistory.Application.Practices;
using BackHistory.Application.Visits;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Imports;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Tests.Imports;

/// <summary>An old table is sent in, tried, entered and taken back.</summary>
public sealed class ImportTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private static readonly ImportPlan Yards = Plan(ImportKind.Yards, ("Yard", "name"), ("Town", "town"));
    private static readonly ImportPlan Horses = Plan(ImportKind.Horses, ("Horse", "name"), ("Yard", "yard"));
    private static readonly ImportPlan Visits = Plan(
        ImportKind.Visits,
        ("Horse", "horse"),
        ("Day", "date"),
        ("With", "method"),
        ("Weight", "weight")
    ) with
    {
        DateFormat = "yyyy-MM-dd",
        WeightUnit = "kg",
    };

    [Fact]
    public async Task A_table_that_was_entered_is_taken_back_from_its_last_line_to_its_first()
    {
        var practice = await acts.Found("import and back");
        var yards = await acts.Entered(practice, "yards", "Yard,Town\nLower Barn,Ford\nUpper Barn,Ford\n", Yards);
        var horses = await acts.Entered(practice, "horses", "Horse,Yard\nBramble,Lower Barn\nThistle,Upper Barn\n", Horses);
        var visits = await acts.Entered(
            practice,
            "visits",
            "Horse,Day,With,Weight\nBramble,2025-05-01,scale,512\nBramble,2025-06-01,scale,515\n",
            Visits
        );
        Assert.Equal([new ImportCounts(2, 0, 0), new(2, 0, 0), new(2, 0, 0)], [yards.Counts, horses.Counts, visits.Counts]);
        var bramble = (await acts.Get<ImportStore>().Names(practice.Name, default)).Horses.Single(h => h.Name == "Bramble").Id;
        Assert.Equal(2, (await practice.Horse(bramble)).Visits.Count);

        Assert.Equal(new ImportCounts(2, 0, 0), (await acts.TakenBack(practice, visits)).TakenBack);
        Assert.All((await practice.Horse(bramble)).Visits.Values, v => Assert.True(v.Withdrawn));
        Assert.Equal(new ImportCounts(2, 0, 0), (await acts.TakenBack(practice, horses)).TakenBack);
        Assert.True((await practice.Horse(bramble)).Withdrawn);
        Assert.Equal(new ImportCounts(2, 0, 0), (await acts.TakenBack(practice, yards)).TakenBack);
        Assert.Empty(await acts.Get<PracticeQueries>().Yards(practice.Name, default));
    }

    [Fact]
    public async Task What_something_else_rests_on_stays_and_says_why()
    {
        var practice = await acts.Found("import that stays");
        var yards = await acts.Entered(practice, "yards", "Yard,Town\nLower Barn,Ford\nUpper Barn,Ford\n", Yards);
        var horses = await acts.Entered(practice, "horses", "Horse,Yard\nBramble,Lower Barn\n", Horses);
        var bramble = Assert.Single((await acts.Get<ImportStore>().Names(practice.Name, default)).Horses).Id;
        await practice.Yard.Visit(bramble, acts.Time.Now);

        Assert.Equal(new ImportCounts(1, 1, 0), (await acts.TakenBack(practice, yards)).TakenBack);
        Assert.Equal("Lower Barn", Assert.Single(await acts.Get<PracticeQueries>().Yards(practice.Name, default)).Name);
        Assert.Equal(new ImportCounts(0, 1, 0), (await acts.TakenBack(practice, horses)).TakenBack);
        Assert.False((await practice.Horse(bramble)).Withdrawn);
        var line = Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, horses.Id, null, 0, 10, default));
        Assert.Equal((false, "Visits to this horse stand. Take those back first."), (line.TakenBack, line.StaysBecause));
    }

    [Fact]
    public async Task Whoever_signs_in_stays_when_the_table_that_brought_them_is_taken_back()
    {
        var practice = await acts.Found("import of members");
        var people = await acts.Entered(practice, "people", "Name\nRobin Field\n", Plan(ImportKind.People, ("Name", "name")));
        var robin = Assert.Single((await acts.Get<ImportStore>().Names(practice.Name, default)).People, p => p.Name == "Robin Field").Id;
        await acts.Get<AccountDocuments>()
            .Add(
                new Account
                {
                    Id = practice.Id("account"),
                    Email = "robin@field.invalid",
                    NormalizedEmail = "ROBIN@FIELD.INVALID",
                    Memberships = [new Membership(practice.Name, robin, PracticeRole.Fitter)],
                },
                default
            );

        Assert.Equal(new ImportCounts(0, 1, 0), (await acts.TakenBack(practice, people)).TakenBack);
    }

    [Fact]
    public async Task Whoever_takes_part_in_the_care_of_a_horse_stays_when_the_table_that_brought_them_is_taken_back()
    {
        var practice = await acts.Found("import of riders");
        var people = await acts.Entered(
            practice,
            "people",
            "Name,Part\nRobin Field,rider\nAda Marsh,rider\nNoor Hill,rider\n",
            Plan(ImportKind.People, ("Name", "name"), ("Part", "role"))
        );
        var known = (await acts.Get<ImportStore>().Names(practice.Name, default)).People.ToDictionary(p => p.Name, p => p.Id);
        var (bramble, thistle) = (await practice.Yard.Horse(acts.Time.Now, "Bramble"), await practice.Yard.Horse(acts.Time.Now, "Thistle"));
        await Rides(bramble, known["Robin Field"]);
        await Rides(thistle, known["Ada Marsh"]);
        var withdrawn = await acts.Get<WithdrawHorseRegistration>()
            .Do(new(thistle, "Entered twice."), practice.By(PracticeRole.Manager), default);
        Assert.Null(withdrawn.Refused);

        Assert.Equal(new ImportCounts(2, 1, 0), (await acts.TakenBack(practice, people)).TakenBack);

        var stays = Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, people.Id, null, 0, 10, default), l => !l.TakenBack);
        Assert.Equal("Work, a visit, a booking, a note or somebody's access names it.", stays.StaysBecause);
        Assert.NotNull(await acts.Get<PracticeQueries>().Person(practice.Name, known["Robin Field"], default));

        async Task Rides(Guid horse, Guid person)
        {
            var given = new AssignCareRole.Input(horse, person, CareRole.Rider, null);
            Assert.Null((await acts.Get<AssignCareRole>().Do(given, practice.By(PracticeRole.Manager, $"{horse}"), default)).Refused);
        }
    }

    [Fact]
    public async Task The_same_table_again_adds_nothing_and_after_it_was_taken_back_it_comes_in_anew()
    {
        var practice = await acts.Found("import again");
        const string Table = "Yard,Town\nLower Barn,Ford\n";
        var first = await acts.Entered(practice, "first", Table, Yards);
        var second = await acts.Entered(practice, "second", Table, Yards);
        Assert.Equal([new ImportCounts(1, 0, 0), new(0, 1, 0)], [first.Counts, second.Counts]);

        await acts.TakenBack(practice, first);
        Assert.Equal(new ImportCounts(1, 0, 0), (await acts.Entered(practice, "third", Table, Yards)).Counts);
    }

    /// <summary>Nine in the evening of 1 May in Denver is 2 May in Greenwich.</summary>
    [Fact]
    public async Task A_visit_in_the_evening_is_of_its_day_where_the_practice_is_and_no_line_enters_that_day_a_second_time()
    {
        var practice = await acts.Found("import in Denver");
        var by = practice.By(PracticeRole.Manager);
        await acts.Get<CorrectPracticeDetails>().Do(new("Denver", "America/Denver", "We moved."), by, default);
        var bramble = await practice.Yard.Horse(acts.Time.Now.AddYears(-2), "Bramble");
        var evening = new DateTimeOffset(2025, 5, 1, 21, 0, 0, TimeSpan.FromHours(-6));
        var visit = new EnterVisit.Input(bramble, practice.Id("evening"), evening, null, new VisitConditions(), "scale", [Weight()]);
        Assert.Null((await acts.Get<EnterVisit>().Do(visit, practice.By(PracticeRole.Manager), default)).Refused);

        var entered = await acts.Entered(practice, "visits", "Horse,Day,With,Weight\nBramble,2025-05-01,scale,512\n", Visits);
        var line = Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, null, 0, 10, default));
        Assert.Equal((LineVerdict.Refused, "visit-that-day"), (line.Verdict, line.Code));
        entered = await acts.Entered(practice, "next day", "Horse,Day,With,Weight\nBramble,2025-05-02,scale,512\n", Visits);
        Assert.Equal(new ImportCounts(1, 0, 0), entered.Counts);

        VisitEntry Weight() => new WeightEntry(practice.Id("weight"), 512);
    }

    [Fact]
    public async Task What_has_to_be_answered_first_is_asked_and_nothing_is_entered_before()
    {
        var practice = await acts.Found("import asks");
        await practice.Yard.Horse(acts.Time.Now.AddYears(-1), "Bramble");
        var by = practice.By(PracticeRole.Manager);
        var table = Encoding.UTF8.GetBytes("Horse,Day,With,Weight\nBramble,03/04/2025,scale,512\n");
        var id = practice.Id("asks");
        Assert.Null((await acts.Get<SendTableIn>().Do(new(id, "visits.csv", null, table), by, default)).Refused);
        var open = Visits with { DateFormat = null, WeightUnit = null };

        var (trial, _) = await acts.Get<TryImport>().Do(new(id, open), by, default);
        Assert.Equal(["dateFormat", "weightUnit"], trial!.Questions.Select(q => q.About));
        Assert.Equal("unanswered", (await acts.Get<EnterImport>().Do(new(id, open), by, default))!.Code);
        Assert.Empty(acts.Asked.For(practice.Name));

        (trial, _) = await acts.Get<TryImport>().Do(new(id, open with { DateFormat = "dd/MM/yyyy", WeightUnit = "lb" }), by, default);
        Assert.Equal(new ImportCounts(1, 0, 0), trial!.Counts);
    }

    [Fact]
    public async Task A_word_that_is_no_station_of_the_protocol_is_asked_and_never_begins_a_new_series()
    {
        var practice = await acts.Found("import of stations");
        var bramble = await practice.Yard.Horse(acts.Time.Now.AddYears(-2), "Bramble");
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("With", "method"),
            ("Where", "station"),
            ("Left", "read-slope-left")
        ) with
        {
            DateFormat = "yyyy-MM-dd",
        };
        const string Table =
            "Horse,Day,With,Where,Left\nBramble,2025-05-01,inclinometer,Schulter,40\nBramble,2025-05-01,inclinometer,Mid back,38\n"
            + "Bramble,2025-05-01,inclinometer,Croup,20\n";
        var by = practice.By(PracticeRole.Manager);
        var id = practice.Id("stations");
        await acts.Get<SendTableIn>().Do(new(id, "visits.csv", null, Encoding.UTF8.GetBytes(Table)), by, default);

        var (trial, _) = await acts.Get<TryImport>().Do(new(id, plan), by, default);
        Assert.Equal(["station:Schulter", "station:Croup"], trial!.Questions.Select(q => q.Of));
        Assert.Equal(["shoulder", "behind-shoulder", "mid-back", "last-rib", "leave-out"], trial.Questions[0].Answers);
        Assert.Equal("unanswered", (await acts.Get<EnterImport>().Do(new(id, plan), by, default))!.Code);

        var answered = plan with
        {
            Answers = new Dictionary<string, string>(StringComparer.Ordinal)
            {
                ["station:Schulter"] = "shoulder",
                ["station:Croup"] = "leave-out",
            },
        };
        var entered = await acts.Entered(practice, "answered", Table, answered);
        Assert.Equal(new ImportCounts(2, 0, 1), entered.Counts);
        Assert.Null(entered.Plan!.Answers);
        var visit = Assert.Single((await practice.Horse(bramble)).Visits.Values);
        Assert.Equal(2, visit.Entries.Count);
        var left = Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, LineVerdict.Refused, 0, 10, default));
        Assert.Equal(("Bramble", "Where", "Croup"), (left.Who, left.Faults![0].Column, left.Faults[0].Value));
    }

    [Fact]
    public async Task A_name_that_is_almost_known_is_asked_and_is_the_same_or_another_as_it_was_answered()
    {
        var practice = await acts.Found("import of names");
        await acts.Entered(practice, "people", "Name\nMüller Anna\n", Plan(ImportKind.People, ("Name", "name")));
        var anna = (await acts.Get<ImportStore>().Names(practice.Name, default)).People.Single(p => p.Name == "Müller Anna").Id;
        const string Table = "Name\nMueller Anna\nMüller Anne\n";
        var plan = Plan(ImportKind.People, ("Name", "name"));
        var by = practice.By(PracticeRole.Manager);
        var id = practice.Id("names");
        await acts.Get<SendTableIn>().Do(new(id, "people.csv", null, Encoding.UTF8.GetBytes(Table)), by, default);

        var (trial, _) = await acts.Get<TryImport>().Do(new(id, plan), by, default);
        Assert.Equal(["person:Mueller Anna", "person:Müller Anne"], trial!.Questions.Select(q => q.Of));
        Assert.All(trial.Questions, q => Assert.Equal([anna.ToString(), "another"], q.Answers));

        var entered = await acts.Entered(
            practice,
            "answered",
            Table,
            plan with
            {
                Answers = new Dictionary<string, string>(StringComparer.Ordinal)
                {
                    ["person:Mueller Anna"] = anna.ToString(),
                    ["person:Müller Anne"] = "another",
                },
            }
        );
        Assert.Equal(new ImportCounts(1, 1, 0), entered.Counts);
        Assert.NotNull(entered.EnteredAt);
    }

    [Fact]
    public async Task What_is_written_down_of_a_line_names_no_person_and_what_is_tried_shows_the_cell()
    {
        var practice = await acts.Found("import says whose");
        const string Table = "Name,Mail\nRobin Field,no address\n";
        var plan = Plan(ImportKind.People, ("Name", "name"), ("Mail", "email"));
        var by = practice.By(PracticeRole.Manager);
        var id = practice.Id("whose");
        await acts.Get<SendTableIn>().Do(new(id, "people.csv", null, Encoding.UTF8.GetBytes(Table)), by, default);
        var tried = Assert.Single((await acts.Get<TryImport>().Do(new(id, plan), by, default)).Trial!.Lines);
        Assert.Equal(("Robin Field", "Mail", "no address"), (tried.Who, Assert.Single(tried.Faults!).Column, tried.Faults![0].Value));

        var entered = await acts.Entered(practice, "kept", Table, plan);
        var kept = Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, null, 0, 10, default));
        Assert.Equal((null, "Mail", null), (kept.Who, kept.Faults![0].Column, kept.Faults[0].Value));
    }

    [Fact]
    public async Task What_a_take_back_would_take_and_leave_is_known_before_and_nothing_is_taken()
    {
        var practice = await acts.Found("import foreseen");
        var yards = await acts.Entered(practice, "yards", "Yard,Town\nLower Barn,Ford\nUpper Barn,Ford\n", Yards);
        var horses = await acts.Entered(practice, "horses", "Horse,Yard\nBramble,Lower Barn\nThistle,Lower Barn\n", Horses);
        var bramble = (await acts.Get<ImportStore>().Names(practice.Name, default)).Horses.Single(h => h.Name == "Bramble").Id;
        await practice.Yard.Visit(bramble, acts.Time.Now);

        var ofYards = (await acts.Get<ImportRollback>().Foresee(practice.Name, yards.Id, default))!;
        Assert.Equal((1, 2, 2), (ofYards.Goes[MadeAs.Yard], ofYards.Looked, ofYards.Lines));
        Assert.Equal("A horse or a saddle that stands names it.", Assert.Single(ofYards.Stays).Why);
        var ofHorses = (await acts.Get<ImportRollback>().Foresee(practice.Name, horses.Id, default))!;
        Assert.Equal(1, ofHorses.Goes[MadeAs.Horse]);
        Assert.Equal((2, "Bramble"), Assert.Single(ofHorses.Stays) is var s ? (s.Line, s.Who) : default);

        Assert.Equal(ImportState.Entered, (await acts.Get<ImportStore>().Load(practice.Name, horses.Id, default))!.State);
        Assert.False((await practice.Horse(bramble)).Withdrawn);
    }

    [Fact]
    public async Task One_answer_stands_for_a_station_however_it_is_written_in_capitals()
    {
        var practice = await acts.Found("import of one word");
        var bramble = await practice.Yard.Horse(acts.Time.Now.AddYears(-2), "Bramble");
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("With", "method"),
            ("Where", "station"),
            ("Left", "read-slope-left")
        ) with
        {
            DateFormat = "yyyy-MM-dd",
        };
        const string Table =
            "Horse,Day,With,Where,Left\nBramble,2025-05-01,inclinometer,Schulter,40\nBramble,2025-06-01,inclinometer,SCHULTER,38\n"
            + "Bramble,2025-07-01,inclinometer,Croup,20\nBramble,2025-08-01,inclinometer,croup,20\n";
        Assert.Equal(["station:Schulter", "station:Croup"], await QuestionsOf(practice, Table, plan));
        var answers = Answers(("station:Schulter", "shoulder"), ("station:Croup", ImportAnswers.LeaveOut));
        var entered = await acts.Entered(practice, "answered", Table, plan with { Answers = answers });
        Assert.Equal(new ImportCounts(2, 0, 2), entered.Counts);
        Assert.Equal(2, (await practice.Horse(bramble)).Visits.Count);
        var left = await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, LineVerdict.Refused, 0, 10, default);
        Assert.Equal(["left-out", "left-out"], left.Select(l => l.Code));
    }

    [Fact]
    public async Task One_answer_stands_for_a_name_however_it_is_written_in_capitals()
    {
        var practice = await acts.Found("import of one name");
        var plan = Plan(ImportKind.People, ("Name", "name"));
        await acts.Entered(practice, "people", "Name\nMüller Anna\n", plan);
        var anna = (await acts.Get<ImportStore>().Names(practice.Name, default)).People.Single(p => p.Name == "Müller Anna").Id;
        const string Table = "Name\nMueller Anna\nMUELLER ANNA\n";
        Assert.Equal(["person:Mueller Anna"], await QuestionsOf(practice, Table, plan));
        var answered = plan with { Answers = Answers(("person:Mueller Anna", anna.ToString())) };
        Assert.Equal(new ImportCounts(0, 2, 0), (await acts.Entered(practice, "answered", Table, answered)).Counts);
    }

    private async Task<IReadOnlyList<string?>> QuestionsOf(TestPractice practice, string table, ImportPlan plan)
    {
        var (by, id) = (practice.By(PracticeRole.Manager), practice.Id("asked"));
        await acts.Get<SendTableIn>().Do(new(id, "asked.csv", null, Encoding.UTF8.GetBytes(table)), by, default);
        return [.. (await acts.Get<TryImport>().Do(new(id, plan), by, default)).Trial!.Questions.Select(q => q.Of)];
    }

    private static Dictionary<string, string> Answers(params (string Of, string Is)[] answers) =>
        answers.ToDictionary(a => a.Of, a => a.Is, StringComparer.Ordinal);

    [Fact]
    public async Task A_cell_of_a_number_or_a_day_that_holds_words_and_the_label_of_a_saddle_are_not_written_down()
    {
        var practice = await acts.Found("import of words in numbers");
        var horses = Plan(ImportKind.Horses, ("Name", "name"), ("Born", "foaled"), ("Height", "height")) with
        {
            DateFormat = "yyyy-MM-dd",
            LengthUnit = "cm",
            DecimalMark = ".",
        };
        const string Table = "Name;Born;Height\nBramble;ask Robin Field;16.9 hh\nThistle;31.02.2015;0151 2345 Robin\n";
        var entered = await acts.Entered(practice, "horses", Table, horses);
        var lines = await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, LineVerdict.Refused, 0, 10, default);
        Assert.Equal(
            [("Born", null), ("Height", "16.9 hh"), ("Born", "31.02.2015"), ("Height", null)],
            lines.SelectMany(l => l.Faults!).Select(f => (f.Column, f.Value))
        );

        var saddles = Plan(ImportKind.Saddles, ("Saddle", "label"));
        entered = await acts.Entered(practice, "saddles", "Saddle\nRobin Field's old one\n", saddles);
        Assert.Null(Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, null, 0, 10, default)).Who);
    }

    [Fact]
    public async Task What_is_gone_already_is_not_counted_among_what_a_take_back_would_take()
    {
        var practice = await acts.Found("import foreseen again");
        var yards = await acts.Entered(practice, "yards", "Yard,Town\nLower Barn,Ford\nUpper Barn,Ford\n", Yards);
        var horses = await acts.Entered(practice, "horses", "Horse\nBramble\nThistle\n", Plan(ImportKind.Horses, ("Horse", "name")));
        var bramble = (await acts.Get<ImportStore>().Names(practice.Name, default)).Horses.Single(h => h.Name == "Bramble").Id;
        var given = new WithdrawHorseRegistration.Input(bramble, "Entered twice.");
        Assert.Null((await acts.Get<WithdrawHorseRegistration>().Do(given, practice.By(PracticeRole.Manager), default)).Refused);
        var barn = (await acts.Get<PracticeQueries>().Yards(practice.Name, default)).Single(y => y.Name == "Lower Barn").Id;
        Assert.Null(await acts.Get<ImportStore>().Remove(practice.Name, new(MadeAs.Yard, barn, barn), default));

        Assert.Equal(1, (await acts.Get<ImportRollback>().Foresee(practice.Name, horses.Id, default))!.Goes[MadeAs.Horse]);
        Assert.Equal(1, (await acts.Get<ImportRollback>().Foresee(practice.Name, yards.Id, default))!.Goes[MadeAs.Yard]);
    }

    [Fact]
    public async Task A_yard_that_a_horse_is_entered_for_at_that_very_moment_is_not_taken_back()
    {
        var practice = await acts.Found("import at once");
        await acts.Entered(practice, "yards", "Yard,Town\nLower Barn,Ford\n", Yards);
        var yard = Assert.Single(await acts.Get<PracticeQueries>().Yards(practice.Name, default)).Id;
        var horse = practice.Id("bramble");
        var (holds, goesOn) = (new TaskCompletionSource(), new TaskCompletionSource());
        var entering = acts.Get<Commands>()
            .ExecuteHolding<Horse>(
                practice.By(PracticeRole.Fitter).Context,
                horse,
                async held =>
                {
                    Assert.NotNull(await held.Document<Yard>(yard));
                    holds.TrySetResult();
                    await goesOn.Task;
                    var details = new HorseDetails("Bramble", null, null, null, null, null);
                    return h =>
                        HorseDecider.Decide(h, new RegisterHorse(horse, details, null, yard, acts.Time.Now, Guid.Empty), acts.Time.Now);
                },
                default
            );
        await holds.Task;

        var taking = Task.Run(() => acts.Get<ImportStore>().Remove(practice.Name, new(MadeAs.Yard, yard, yard), default));
        while (!taking.IsCompleted && !await SomebodyWaits())
            await Task.Delay(20);
        goesOn.SetResult();

        Assert.Null((await entering).Refused);
        Assert.Equal("A horse or a saddle that stands names it.", await taking);
        Assert.NotNull(await acts.Get<PracticeQueries>().Yard(practice.Name, yard, default));
    }

    /// <summary>For a lock that another has.</summary>
    private async Task<bool> SomebodyWaits()
    {
        const string Sql =
            "select count(*) from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock' and state = 'active'";
        await using var ask = acts.Store.Database.CreateCommand(Sql);
        return (long)(await ask.ExecuteScalarAsync())! > 0;
    }

    [Fact]
    public async Task A_table_is_another_practices_and_not_to_be_found_from_here()
    {
        var (mine, theirs) = (await acts.Found("import of mine"), await acts.Found("import of theirs"));
        var entered = await acts.Entered(theirs, "yards", "Yard,Town\nLower Barn,Ford\n", Yards);

        var by = mine.By(PracticeRole.Administrator);
        Assert.Equal(ImportRefusals.NoSuchImport, (await acts.Get<TryImport>().Do(new(entered.Id, Yards), by, default)).Refused);
        Assert.Equal(ImportRefusals.NoSuchImport, await acts.Get<EnterImport>().Do(new(entered.Id, Yards), by, default));
        Assert.Equal(ImportRefusals.NoSuchImport, (await acts.Get<TakeImportBack>().Do(new(entered.Id), by, default)).Refused);
        Assert.Single(await acts.Get<PracticeQueries>().Yards(theirs.Name, default));
    }

    [Fact]
    public async Task A_table_that_was_not_entered_yet_is_discarded_at_once()
    {
        var practice = await acts.Found("import discarded");
        var by = practice.By(PracticeRole.Manager);
        var id = practice.Id("discarded");
        await acts.Get<SendTableIn>().Do(new(id, "yards.csv", null, "Yard\nLower Barn\n"u8.ToArray()), by, default);

        Assert.Equal((true, null), await acts.Get<TakeImportBack>().Do(new(id), by, default));

        Assert.Null(await acts.Get<ImportStore>().Load(practice.Name, id, default));
        Assert.Empty(acts.Asked.For(practice.Name));
    }

    [Fact]
    public async Task A_line_goes_through_the_decider_of_a_hand_and_its_refusal_names_the_line()
    {
        var practice = await acts.Found("import refused line");
        Assert.Null((await acts.Get<EnterHorse>().Do(Bramble(practice), practice.By(PracticeRole.Fitter), default)).Refused);
        var entered = await acts.Entered(
            practice,
            "visits",
            "Horse,Day,With,Weight\nBramble,2025-05-01,scale,512\nBramble,2025-06-01,scale,51200\nNobody,2025-05-01,scale,500\n",
            Visits
        );

        Assert.Equal(new ImportCounts(1, 0, 2), entered.Counts);
        var lines = await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, LineVerdict.Refused, 0, 10, default);
        Assert.Equal([3, 4], lines.Select(l => l.Line));
        Assert.Equal("no-such-horse", lines[1].Code);
        Assert.Single((await practice.Horse(practice.Id("bramble"))).Visits);
    }

    [Fact]
    public async Task Work_on_saddles_is_entered_by_the_rules_of_a_hand_and_taken_back_as_a_whole()
    {
        var practice = await acts.Found("import saddle work");
        await practice.Yard.Horse(acts.Time.Now.AddYears(-3), "Bramble");
        await practice.Yard.Horse(acts.Time.Now.AddYears(-3), "Thistle");
        var saddle = await practice.Yard.Saddle(acts.Time.Now.AddYears(-3), "GP-12");
        var plan = Plan(
            ImportKind.SaddleWork,
            ("Saddle", "saddle"),
            ("Horse", "horse"),
            ("Day", "date"),
            ("What", "what"),
            ("Left", "left"),
            ("Note", "note")
        ) with
        {
            DateFormat = "yyyy-MM-dd",
        };
        const string Table =
            "Saddle,Horse,Day,What,Left,Note\n"
            + "GP-12,Bramble,2025-05-01,set,2,New.\nGP-12,Bramble,2025-09-01,altered,3,\nGP-12,Thistle,2025-10-01,set,3,\n";
        var entered = await acts.Entered(practice, "work", Table, plan);

        Assert.Equal(new ImportCounts(2, 0, 1), entered.Counts);
        var refused = Assert.Single(await acts.Get<ImportStore>().Lines(practice.Name, entered.Id, LineVerdict.Refused, 0, 10, default));
        Assert.Equal(("on-another-horse", "Horse"), (refused.Code, refused.Column));
        Assert.Equal([(true, "2"), (false, "3")], (await Work()).Select(w => (w.Set, w.Done[0].To)));
        Assert.Equal(new ImportCounts(0, 2, 1), (await acts.Entered(practice, "again", Table, plan)).Counts);
        Assert.Equal(2, (await acts.Get<ImportRollback>().Foresee(practice.Name, entered.Id, default))!.Goes[MadeAs.Work]);

        Assert.Equal(new ImportCounts(2, 0, 0), (await acts.TakenBack(practice, entered)).TakenBack);
        Assert.All(await Work(), w => Assert.True(w.Withdrawn));

        async Task<IReadOnlyList<SaddleWork>> Work() => (await acts.Get<ImportStore>().Saddle(practice.Name, saddle, default))!.Work;
    }

    [Fact]
    public async Task A_tracing_in_a_cell_is_measured_and_taken_back_and_one_of_two_points_is_refused()
    {
        var practice = await acts.Found("import tracings");
        var bramble = await practice.Yard.Horse(acts.Time.Now.AddYears(-3), "Bramble");
        var plan = Plan(
            ImportKind.Visits,
            ("Horse", "horse"),
            ("Day", "date"),
            ("With", "method"),
            ("At", "station"),
            ("Line", "tracing")
        ) with
        {
            DateFormat = "yyyy-MM-dd",
            DecimalMark = ".",
        };
        var section = string.Join(
            "; ",
            Enumerable.Range(-30, 61).Select(i => FormattableString.Invariant($"{i * 5} {-i * i * 0.15:0.##}"))
        );
        var table =
            $"Horse,Day,With,At,Line\nBramble,2025-05-01,flexible-curve,mid-back,{section}\n"
            + "Bramble,2025-06-01,flexible-curve,mid-back,0 0; 1 1\n";

        var entered = await acts.Entered(practice, "tracings", table, plan);

        Assert.Equal(new ImportCounts(1, 0, 1), entered.Counts);
        await acts.Store.CatchUp();
        var visit = Assert.Single(await acts.Get<HorseQueries>().Visits(practice.Name, bramble, default) ?? []);
        Assert.Contains(visit.Standing(), m => m is { Key: "width@100", Station: "mid-back", Value: > 0 });
        Assert.Equal(new ImportCounts(0, 1, 1), (await acts.Entered(practice, "again", table, plan)).Counts);
        await acts.TakenBack(practice, entered);
        Assert.All((await practice.Horse(bramble)).Visits.Values, v => Assert.True(v.Withdrawn));
    }

    private static EnterHorse.Input Bramble(TestPractice practice) =>
        new(practice.Id("bramble"), new HorseDetails("Bramble", null, null, null, null, null), null, null);

    private static ImportPlan Plan(ImportKind kind, params (string Header, string Field)[] columns) =>
        new(kind, columns.ToDictionary(c => c.Header, c => c.Field, StringComparer.Ordinal));
}
