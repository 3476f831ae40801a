using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Testing;
using MimeKit;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>The manager's week and the fitter's day as letters, and when they leave.</summary>
public sealed class DigestLetterTests : IAsyncLifetime
{
    private const string Practice = PracticePost.Practice;

    /// <summary>A Friday, half past five in the afternoon.</summary>
    private static readonly DateTimeOffset Friday = new(2026, 6, 5, 17, 30, 0, TimeSpan.Zero);

    private readonly FixedTime _time = new(Friday);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("backhistory-letters-");
    private PracticeStore _store = null!;
    private PracticePost _post = null!;
    private TestYard _yard = null!;

    public async ValueTask InitializeAsync()
    {
        _store = await PracticeStore.Open();
        await _store.Found(Practice, Friday.AddYears(-1));
        _yard = new TestYard(_store, Practice);
        _post = new PracticePost(
            _store,
            _time,
            new MailSettings(null, 25, null, null, "practice@backhistory.invalid", "backhistory.invalid", _folder.FullName)
        );
        await _post.Known();
        await _post.Person("Manager", PersonRole.Manager, "de");
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    [Fact]
    public async Task Three_days_without_the_service_lead_to_one_digest_that_names_who_waits()
    {
        var owner = await _post.Person("Owner", PersonRole.Owner);
        await PracticePost.NeverMeasured(_yard, "Waiting Horse", owner, Friday);
        await _store.CatchUp();
        await Look();
        Assert.Equal(1, Letters.Count(l => l.To.Mailboxes.Single().Name == "Owner"));
        // The running week's digest is made up for: nothing ran before that Friday.
        Assert.Equal(1, Letters.Count(l => l.To.Mailboxes.Single().Name == "Manager"));

        // Saturday to Monday afternoon nothing runs; then every ten minutes again.
        for (_time.Now = Friday.AddDays(3); _time.Now < Friday.AddDays(4); _time.Now += TimeSpan.FromMinutes(10))
            await Look();

        Assert.Equal(2, Letters.Count(l => l.To.Mailboxes.Single().Name == "Manager"));
        var digest = Assert.Single(Letters, l => l.Subject!.Contains("8. Juni 2026", StringComparison.Ordinal));
        Assert.Contains("Waiting Horse", digest.TextBody, StringComparison.Ordinal);
        Assert.Contains("Benachrichtigt am", digest.TextBody, StringComparison.Ordinal);
        Assert.DoesNotContain("Waiting Horse", digest.Subject, StringComparison.Ordinal);
        Assert.Equal(1, Letters.Count(l => l.To.Mailboxes.Single().Name == "Owner"));
    }

    [Fact]
    public async Task The_fitter_who_is_named_gets_the_days_list_and_the_other_none()
    {
        var owner = await _post.Person("Owner", PersonRole.Owner);
        var (goes, stays) = (await _post.Person("Goes", PersonRole.Fitter), await _post.Person("Stays", PersonRole.Fitter));
        var monday = new DateTimeOffset(2026, 6, 8, 9, 30, 0, TimeSpan.Zero);
        await PracticePost.NeverMeasured(
            _yard,
            "Booked Horse",
            owner,
            Friday,
            new BookVisit(DeterministicId.From("booking"), monday, Guid.Empty, Fitter: goes)
        );
        await _store.CatchUp();

        for (_time.Now = monday.AddHours(-5); _time.Now < monday.AddHours(10); _time.Now += TimeSpan.FromMinutes(30))
            await Look();

        var list = Assert.Single(Letters, l => l.To.Mailboxes.Single().Name == "Goes");
        Assert.Contains("09:30", list.TextBody, StringComparison.Ordinal);
        Assert.Contains("Booked Horse", list.TextBody, StringComparison.Ordinal);
        Assert.Contains("experienced holder", list.TextBody!.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.NotEqual(goes, stays);
        Assert.DoesNotContain(Letters, l => l.To.Mailboxes.Single().Name == "Stays");
    }

    [Fact]
    public async Task A_reader_in_another_zone_is_not_woken_at_the_practices_noon()
    {
        var rules = ReminderRules.Default with
        {
            Letters = ReminderRules.Default.Letters with { QuietFrom = new TimeOnly(21, 0), QuietUntil = new TimeOnly(7, 0) },
        };
        var id = DeterministicId.From("practice", Practice);
        await _yard.Do<History.Practices.Practice>(
            id,
            Friday.AddHours(-1),
            p => PracticeDecider.Decide(p, new ChangeReminderRules(rules, "Nights are quiet.", Guid.Empty), Friday.AddHours(-1))
        );
        var near = await _post.Person("Near", PersonRole.Owner);
        var far = await _post.Person("Far", PersonRole.Owner, zone: "Australia/Sydney");
        // Noon in the practice is ten in the evening there.
        var noon = new DateTimeOffset(2026, 6, 9, 12, 0, 0, TimeSpan.Zero);
        await PracticePost.NeverMeasured(_yard, "Near Horse", near, noon);
        await PracticePost.NeverMeasured(_yard, "Far Horse", far, noon);
        await _store.CatchUp();
        var left = new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        for (_time.Now = noon; _time.Now < noon.AddDays(1); _time.Now += TimeSpan.FromMinutes(30))
        {
            await Look();
            foreach (var letter in Letters)
                left.TryAdd(letter.To.Mailboxes.Single().Name!, _time.Now);
        }

        Assert.Equal(noon, left["Near"]);
        // Seven in the morning in Sydney.
        Assert.Equal(new DateTimeOffset(2026, 6, 9, 21, 0, 0, TimeSpan.Zero), left["Far"]);
    }

    private List<MimeMessage> Letters => [.. Directory.GetFiles(_folder.FullName, "*.eml").Select(f => MimeMessage.Load(f))];

    private async Task Look()
    {
        await _post.DigestSchedule().Owe(Practice, CancellationToken.None);
        await _post.Job().Run(Practice, CancellationToken.None);
    }
}
