using System.Net;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Archives;

/// <summary>The page on which an administrator adds other software, sees how far it was told, starts it again and removes it.</summary>
public sealed partial class WebhookPageTests(RunningService service)
{
    private const string List = "/practice/webhooks";

    private WebhookStore Webhooks => service.Services.GetRequiredService<WebhookStore>();

    [Fact]
    public async Task A_webhook_is_added_on_the_page_its_secret_shown_once_and_removed_again()
    {
        const string practice = "telling-by-page";
        await service.Found(practice);
        using var browser = await Administers("Adds Software", practice);
        var page = await browser.Page(List);
        (string, string)[] typed = [("Form.Url", "https://listens.example.org/told"), ("Form.Types", "horse_registered")];

        Assert.Equal(List, (await browser.Sent(List, page, typed)).Then());
        var shown = await browser.Page(List);
        var webhook = Assert.Single(await Webhooks.All(practice, CancellationToken.None));

        Assert.Equal(webhook.Secret, WebUtility.HtmlDecode(Shown().Match(shown).Groups["secret"].Value));
        Assert.Equal(["horse_registered"], webhook.Types);
        Assert.Contains("Nothing was taken yet; of horse registered", Plain(shown), StringComparison.Ordinal);
        Assert.DoesNotContain(webhook.Secret[6..], WebUtility.HtmlDecode(await browser.Page(List)), StringComparison.Ordinal);
        // Sent once more by an impatient hand it is not added a second time.
        Assert.Contains("made already", await (await browser.Sent(List, page, typed)).Words(), StringComparison.Ordinal);
        Assert.Single(await Webhooks.All(practice, CancellationToken.None));

        var remove = $"{List}/{webhook.Id}/remove";
        Assert.Contains($"href=\"{remove}\"", shown, StringComparison.Ordinal);
        var asks = await browser.Page(remove);
        foreach (var press in new[] { 1, 2 })
            Assert.True((await browser.Sent(remove, asks)).Then() == $"{List}?saved=webhook-removed", $"press {press}");
        Assert.Empty(await Webhooks.All(practice, CancellationToken.None));
        Assert.Contains("It is told of nothing any more", await browser.Page($"{List}?saved=webhook-removed"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_that_failed_too_often_says_so_and_is_started_again_from_where_it_stopped()
    {
        const string practice = "telling-again";
        await service.Found(practice);
        using var browser = await Administers("Starts Software Again", practice);
        await browser.Press(List, ("Form.Url", "https://gone.example.org/"));
        var id = (await Webhooks.All(practice, CancellationToken.None))[0].Id;
        var stopped = await Webhooks.Change(
            practice,
            id,
            w => w with { Stopped = true, Failures = 20, LastError = "answered 410" },
            CancellationToken.None
        );

        Assert.Contains("stopped after 20 attempts: answered 410", Plain(await browser.Page(List)), StringComparison.Ordinal);
        Assert.Equal($"{List}?saved=webhook-started", (await browser.Press($"{List}/{id}/start")).Then());

        var now = await Webhooks.Load(practice, id, CancellationToken.None);
        Assert.False(now!.Stopped);
        Assert.True(now.Position >= stopped!.Position);
        Assert.DoesNotContain("stopped after", Plain(await browser.Page(List)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("start")]
    [InlineData("remove")]
    public async Task The_webhook_of_another_practice_looks_like_a_missing_one_and_stays(string act)
    {
        const string practice = RunningService.Theirs;
        using var theirs = service.Client(practice);
        var made = await (await theirs.Write(HttpMethod.Post, "/api/webhooks", new { url = $"https://{act}.example.org/" })).Json();
        var foreign = made.GetProperty("id").GetGuid();
        using var mine = service.Client();
        var own = await (await mine.Write(HttpMethod.Post, "/api/webhooks", new { url = $"https://own-{act}.example.org/" })).Json();
        using var browser = await Administers($"Would {act} Theirs", RunningService.Mine);
        var form = await browser.Page($"{List}/{own.GetProperty("id").GetGuid()}/{act}");
        await Webhooks.Change(practice, foreign, w => w with { Stopped = true }, CancellationToken.None);

        var answers = new List<(HttpStatusCode, string)>();
        foreach (var id in new[] { foreign, Guid.NewGuid() })
        {
            Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"{List}/{id}/{act}")).StatusCode);
            var answer = await browser.Sent($"{List}/{id}/{act}", form);
            answers.Add((answer.StatusCode, answer.Then()));
        }

        Assert.Equal(answers[1], answers[0]);
        Assert.True((await Webhooks.Load(practice, foreign, CancellationToken.None))!.Stopped);
    }

    [Fact]
    public async Task An_address_that_is_none_is_refused_beside_its_field_and_what_was_typed_stays()
    {
        using var browser = await Administers("Mistypes An Address", RunningService.Mine);

        var said = await (await browser.Press(List, ("Form.Url", "ftp://listens.example.org"), ("Form.Types", "saddle_set"))).Words();

        Assert.Contains("id=\"url-wrong\"", said, StringComparison.Ordinal);
        Assert.Contains("value=\"ftp://listens.example.org\"", said, StringComparison.Ordinal);
        Assert.Matches("value=\"saddle_set\"[^>]* checked", said);
    }

    [Fact]
    public async Task Whoever_does_not_administer_is_led_to_no_webhook()
    {
        using var browser = await service.SignedIn(
            await service.Member("Manages Without Webhooks", (RunningService.Mine, PracticeRole.Manager))
        );

        Assert.DoesNotContain(List, await browser.Page("/practice"), StringComparison.Ordinal);
        Assert.NotEqual(HttpStatusCode.OK, (await browser.Get(List)).StatusCode);
    }

    private async Task<Browser> Administers(string name, string practice) =>
        await service.SignedIn(await service.Member(name, (practice, PracticeRole.Administrator)));

    private static string Plain(string page) => Spaces().Replace(WebUtility.HtmlDecode(page), " ");

    [GeneratedRegex("<code class=\"secret\">(?<secret>[^<]+)</code>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Shown();

    [GeneratedRegex("\\s+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Spaces();
}
