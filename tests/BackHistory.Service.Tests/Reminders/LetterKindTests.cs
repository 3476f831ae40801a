using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Service.Configuration;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>A kind of letter is a row: what it says is composed from it, when it leaves is judged by it, and nothing else knows
/// it.</summary>
public sealed partial class LetterKindTests : IAsyncLifetime
{
    /// <summary>A Tuesday morning: nobody's quiet hours.</summary>
    private static readonly DateTimeOffset Now = new(2026, 3, 3, 10, 0, 0, TimeSpan.Zero);

    private readonly FixedTime _time = new(Now);
    private PracticeStore _store = null!;
    private PracticePost _post = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        _post = new PracticePost(
            _store,
            _time,
            new MailSettings(null, 25, null, null, "practice@backhistory.invalid", "backhistory.invalid", "nowhere")
        );
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    [Fact]
    public async Task Every_kind_is_composed_from_its_row_and_judged_by_it()
    {
        await _store.Found(PracticePost.Practice, Now.AddYears(-1));
        var owner = await _post.Person("Owner", PersonRole.Owner);
        var booking = new BookVisit(DeterministicId.From("booking"), Now.AddDays(3), Guid.Empty);
        var yard = new TestYard(_store, PracticePost.Practice);
        var id = await PracticePost.NeverMeasured(yard, "Juniper", owner, Now.AddDays(-2), booking);
        await _store.CatchUp();
        var practice = (await _post.Practices.Load(PracticePost.Practice, CancellationToken.None))!;
        var reader = (await _post.Practices.Person(PracticePost.Practice, owner, CancellationToken.None))!;
        var reminder = (await _store.Reminders.Load(PracticePost.Practice, id, CancellationToken.None))!;

        foreach (var kind in LetterKinds.All)
        {
            var letter = new Letter
            {
                Id = DeterministicId.From(kind.Kind.ToString()),
                Kind = kind.Kind,
                To = owner,
                ReminderId = kind.IsList ? null : id,
                On = kind.IsList ? new DateOnly(2026, 3, 2) : null,
            };
            var (written, why) = await _post.Writer().Compose(PracticePost.Practice, letter, CancellationToken.None);
            Assert.True(written is not null, $"{kind.Kind}: {why}");
            Said(kind, written);

            LetterVerdict Judge(Reminder about, Person to, bool released = true) =>
                LetterGate.Judge(practice, letter, kind.IsList ? null : about, to, null, released, Now);
            Assert.True(Judge(reminder, reader).MayLeave, $"{kind.Kind} does not leave");
            Assert.Equal(kind.IsList, Judge(reminder, reader, released: false).MayLeave);
            Assert.False(Judge(reminder, reader with { Stopped = [kind.Kind] }).MayLeave);
            Assert.Equal(!kind.EndsWithReminder, Judge(reminder with { State = ReminderState.Closed }, reader).MayLeave);
            Assert.Equal(!kind.EndsWithReminder, Judge(reminder with { State = ReminderState.Muted }, reader).MayLeave);
            Assert.Equal(!kind.EndsWithAnswer, Judge(reminder with { Answer = Answer.Later }, reader).MayLeave);
            Assert.Equal(!kind.EndsWithBooking, Judge(reminder with { BookedFor = null }, reader).MayLeave);
        }
    }

    private static void Said(LetterDefinition kind, LetterContent written)
    {
        var links = Sealed().Count(written.Text);
        var leads = 1 + (kind.AsksAnswer ? 3 : 0) + (kind.Says.Contains(LetterPart.MoveLink) ? 1 : 0);
        Assert.True(links == leads, $"{kind.Kind}: {links} links; the end of such letters, three answers, and one to another day");
        Assert.True(kind.IsList || written.Html.Contains("Juniper", StringComparison.Ordinal), $"{kind.Kind} names no horse");
        Assert.Equal(kind.Says.Contains(LetterPart.RemindersLink), written.Text.Contains("/reminders", StringComparison.Ordinal));
        Assert.Equal(kind.Says.Contains(LetterPart.HorseLink), !kind.IsList && written.Text.Contains("/horses/", StringComparison.Ordinal));
        Assert.Equal(kind.SetsCalendar, written.Calendar is not null);
        Assert.Equal(kind.SaysSilence, written.Text.Contains("did not reach", StringComparison.Ordinal));
    }

    /// <summary>A new kind touches its row; whoever decides that one is owed names it, and nobody else does.</summary>
    [Fact]
    public void A_kind_is_named_by_its_row_and_by_whoever_owes_it_and_nowhere_else()
    {
        string[] owing =
        [
            "BackHistory.History/Reminders/Digests/Digests.cs",
            "BackHistory.History/Reminders/Planning/PlannedHorse.cs",
            "BackHistory.History/Reminders/Policy/ReminderPolicy.cs",
            "BackHistory.History/Reminders/Policy/ResolutionRules.cs",
            "BackHistory.History/Reminders/ReminderDecider.cs",
        ];
        var sources = Path.Combine(Repository.Root, "src");
        var naming = Directory
            .EnumerateFiles(sources, "*", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(sources, f).Replace('\\', '/'))
            .Where(f => Path.GetExtension(f) is ".cs" or ".razor" && !f.Contains("/obj/", StringComparison.Ordinal))
            .Where(f => Named().IsMatch(File.ReadAllText(Path.Combine(sources, f))));
        Assert.Equal(
            owing.Append("BackHistory.History/Reminders/LetterKinds.cs").Order(StringComparer.Ordinal),
            naming.Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public void Every_kind_has_one_row_and_every_family_of_reminders_one_letter_that_tells_it()
    {
        Assert.Equal(Enum.GetValues<LetterKind>().Order(), LetterKinds.All.Select(k => k.Kind).Order());
        Assert.All(Enum.GetValues<ReminderFamily>(), f => Assert.True(LetterKinds.DefinitionOf(LetterKinds.Telling(f)).AsksAnswer));
    }

    [GeneratedRegex(@"\bLetterKind\.[A-Z]")]
    private static partial Regex Named();

    [GeneratedRegex("/letter/")]
    private static partial Regex Sealed();
}
