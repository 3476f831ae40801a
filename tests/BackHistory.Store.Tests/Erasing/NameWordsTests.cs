using System.Text;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.History.Notes;
using BackHistory.Store.Erasing;
using BackHistory.Testing;
using Marten;

namespace BackHistory.Store.Tests.Erasing;

/// <summary>A name is found as whole words and nowhere else, by us and by the database alike.</summary>
public sealed class NameWordsTests : IAsyncLifetime
{
    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);
    private PracticeStore _store = null!;

    public async ValueTask InitializeAsync() => _store = await PracticeStore.Open();

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Theory]
    [InlineData("Ann", "Ann", true)]
    [InlineData("Ann", "told ann's groom", true)]
    [InlineData("Ann", "Comes often.\nANN holds it.", true)]
    [InlineData("Ann", "It cannot be ridden.", false)]
    [InlineData("Ann", "Planned for the annual look, says Annegret.", false)]
    [InlineData("Ann", "Comes on Ann’s days.", true)]
    [InlineData("Ann Example", "Seen by Ann\n  Example.", true)]
    [InlineData("Ann Example", "Seen by Ann. Example:", false)]
    [InlineData("Änne Öz", "Told\tÄNNE ÖZ", true)]
    [InlineData("Änne Öz", "Hänne Öz", false)]
    [InlineData("Ann \"Nan\" Example", "It was Ann \"Nan\" Example.", true)]
    [InlineData("Ann 🐎", "Says Ann 🐎 of it.", true)]
    [InlineData("a.b+c@people.invalid", "Write to A.B+C@people.invalid!", true)]
    [InlineData("a.b+c@people.invalid", "Write to axb+c@people.invalid!", false)]
    public async Task A_name_is_found_as_whole_words_in_a_note_and_in_a_file(string name, string words, bool found)
    {
        var names = new NameWords([name]);
        Assert.Equal(found, names.StandIn(words));
        await Keep("note", s => s.Store(new Note(DeterministicId.Of("note"), words, [], Guid.Empty, June)));
        await Keep("file", s => FileTable.Queue(s, FileBytes.Of(Encoding.UTF8.GetBytes($"A letter.\n{words}\n")).File!));
        var search = new NameSearch(new PracticeDatabase(_store.Members));
        foreach (var practice in new[] { "note", "file" })
            Assert.Equal(found ? 1 : 0, (await search.In(practice, names, CancellationToken.None)).Sum(f => f.Rows));
    }

    private async Task Keep(string practice, Action<IDocumentSession> keep)
    {
        await using var session = _store.Store.LightweightSession(practice);
        keep(session);
        await session.SaveChangesAsync(CancellationToken.None);
    }
}
