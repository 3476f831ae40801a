using System.Text;
using BackHistory.History;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Erasing;
using BackHistory.Store.Notes;
using BackHistory.Store.Practices;
using BackHistory.Testing;

namespace BackHistory.Store.Tests.Erasing;

/// <summary>What is looked for by a name, and whose an answer is.</summary>
public sealed class ErasingTests : IAsyncLifetime
{
    private const string Practice = "practice";
    private static readonly DateTimeOffset March = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    public static TheoryData<string, string, bool> Texts =>
        new()
        {
            { "Ann", "cannot", false },
            { "Ann", "Anna and Joann plan an annual look", false },
            { "Ann", "ANN's mare", true },
            { "Ann", "Told Ann, who saw it.", true },
            { "Ann Lee", "called Ann\n Lee", true },
            { "Jürg", "Jürgen", false },
            { "Jürg", "mit JÜRG gesprochen", true },
            { "030 1234", "030 12345", false },
            { "030 1234", "ring 030 1234.", true },
            { "a.b@x.invalid", "aXb@x.invalid", false },
            { "O'Neil (jun.)", "by O'Neil (jun.), late", true },
            { "Jo", "Jo", false },
        };

    [Theory]
    [MemberData(nameof(Texts))]
    public async Task A_name_is_found_as_a_whole_word_and_never_inside_another(string name, string text, bool found)
    {
        var names = new NameWords([name, null, " "]);
        Assert.Equal(found, names.StandIn(text));
        if (names.Names.Count == 0)
            return;
        await using var command = _store.Database.CreateCommand("select $1 ~* $2");
        command.Parameters.Add(new() { Value = text });
        command.Parameters.Add(new() { Value = names.ForPostgres });
        Assert.Equal(found, await command.ExecuteScalarAsync());
    }

    [Fact]
    public async Task Where_a_name_still_stands_is_counted_by_whole_words_in_text_and_in_files()
    {
        foreach (var (id, words) in new[] { ("one", "Cannot be ridden."), ("two", "Ann saw it.") })
        {
            var (practice, note) = (DeterministicId.From("practice"), new Note(DeterministicId.From(id), words, [], Guid.Empty, March));
            var founding = new FoundPractice(practice, Practice, "Etc/UTC", true, Guid.Empty);
            var another = new PersonErased(Guid.Empty, March, Guid.Empty);
            await _store.Commands.Execute<Practice>(
                PracticeStore.Context(Practice, id, March),
                practice,
                p => (p is null ? PracticeDecider.Decide(p, founding, March) : Decided.Yes(another)).With(note),
                CancellationToken.None
            );
        }

        foreach (var text in new[] { "The planned annual look.", "A letter of Ann." })
        {
            await using var insert = _store.Database.CreateCommand(
                "insert into history.file_part (tenant_id, hash, part, bytes) values ($1, $2, 0, $3)"
            );
            foreach (var value in (object[])[Practice, text, Encoding.UTF8.GetBytes($"\0{text}\0")])
                insert.Parameters.Add(new() { Value = value });
            await insert.ExecuteNonQueryAsync();
        }

        var found = await Search.In(Practice, new NameWords(["Ann"]), CancellationToken.None);
        Assert.Equal(
            [new FoundIn("history.file_part", 1), new FoundIn("history.mt_doc_note", 1)],
            found.OrderBy(f => f.Table, StringComparer.Ordinal)
        );
        Assert.Empty(await Search.In("theirs", new NameWords(["Ann"]), CancellationToken.None));
    }

    [Fact]
    public async Task An_answer_that_either_of_two_readers_may_have_written_is_offered_and_that_of_the_only_reader_goes()
    {
        await _store.Found(Practice, March);
        var yard = new TestYard(_store, Practice);
        var (owner, rider) = (DeterministicId.From("owner"), DeterministicId.From("rider"));
        foreach (var (id, name) in new[] { (owner, "Olga"), (rider, "Rita") })
            await People.Add(Practice, new Person(id, name, null, null, null, PersonRole.Owner), CancellationToken.None);
        await Answered(yard, "Asked One", "We sold it.", owner);
        await Answered(yard, "Asked Two", "It is well.", owner, rider);
        var erasure = new Erasure(_store.Store, _store.Whole, _store.Commands, Search);

        var (erased, _) = await erasure.Erase(PracticeStore.Context(Practice, "erase", March), owner, Nothing, CancellationToken.None);
        Assert.Equal((1, 2), (erased!.Notes, erased.Letters.Count));
        var offered = Assert.Single(erased.Left, l => l.Kind == "answer");
        Assert.Equal("It is well.", offered.Words);
        Assert.Equal(
            "It is well.",
            Assert.Single(await new NoteQueries(_store.Store).Load(Practice, [offered.Id!.Value], CancellationToken.None)).Words
        );
        // Asked for again, nothing is left to do and nothing else goes.
        (erased, _) = await erasure.Erase(PracticeStore.Context(Practice, "erase again", March), owner, Nothing, CancellationToken.None);
        Assert.Equal((0, 2), (erased!.Notes, erased.Letters.Count));
        Assert.NotNull(await People.Person(Practice, rider, CancellationToken.None));
    }

    private static Task<IReadOnlyList<LeftBehind>> Nothing(NameWords names, CancellationToken ct) =>
        Task.FromResult<IReadOnlyList<LeftBehind>>([]);

    private PracticeQueries People => new(_store.Store);

    private NameSearch Search => new(new PracticeDatabase(_store.Members));

    private static async Task Answered(TestYard yard, string horseName, string words, params Guid[] readers)
    {
        var horse = await yard.Horse(March.AddDays(-200), horseName);
        var id = ReminderIds.IdFor(Practice, horse, null, ReminderRule.NoVisit, 0);
        var day = ZoneClock.Day(March, TimeZoneInfo.Utc);
        var evidence = Evidence.WithoutMeasure(day, 1, day, $"{horseName} has not been measured yet.");
        List<LetterToWrite> letters =
        [
            .. readers.Select(r => new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.OwnerCheck, r), LetterKind.OwnerCheck, r)),
        ];
        await yard.Do<Reminder>(
            id,
            March,
            r => ReminderDecider.Decide(r, new RaiseReminder(id, horse, null, ReminderRule.NoVisit, evidence, letters, Guid.Empty), March)
        );
        await yard.Do<Reminder>(
            id,
            March,
            r => ReminderDecider.Decide(r, new AnswerReminder(Answer.NotNeeded, words, ReminderPolicy.TheReader, null), March)
        );
    }
}
