using System.Net;
using System.Text;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Practices;

/// <summary>The page on which a manager says how the practice is reached.</summary>
public sealed class ContactPageTests(RunningService service)
{
    private const string Page = "/practice/contact";

    [Fact]
    public async Task What_is_typed_and_chosen_stands_on_the_page_in_a_letter_and_on_a_paper()
    {
        using var browser = await Manages("Contacts", PracticeRole.Manager);
        var picture = SamplePng();

        var saved = await Sent(browser, picture, ("Form.Address", "12 Ford Lane"), ("Form.ReplyTo", "office@ford.invalid"));

        Assert.Equal($"{Page}?saved=contact", saved.Then());
        var page = await browser.Page(Page);
        Assert.Contains("value=\"12 Ford Lane\"", page, StringComparison.Ordinal);
        var shown = await browser.Get("/api/practice/picture");
        Assert.Equal(picture, await shown.Content.ReadAsByteArrayAsync());
        Assert.Equal("image/png", shown.Content.Headers.ContentType!.MediaType);
        // Another practice has none.
        using var theirs = service.Client(RunningService.Theirs);
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.GetAsync("/api/practice/picture")).StatusCode);

        // Without another picture the first one stays, and a tick takes it away.
        await Sent(browser, null, ("Form.Phone", "01234"));
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/api/practice/picture")).StatusCode);
        Assert.Contains("value=\"12 Ford Lane\"", await browser.Page(Page), StringComparison.Ordinal);
        await Sent(browser, null, ("Form.WithoutPicture", "true"));
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get("/api/practice/picture")).StatusCode);
    }

    [Fact]
    public async Task What_cannot_be_taken_is_said_beside_its_field_and_what_was_typed_stays()
    {
        using var browser = await Manages("Contacts Badly", PracticeRole.Manager);

        var bad = await (
            await Sent(browser, "<svg onload='x'/>"u8.ToArray(), ("Form.Address", "1 Kept Street"), ("Form.ReplyTo", "nobody"))
        ).Words();

        Assert.Contains("id=\"picture-wrong\"", bad, StringComparison.Ordinal);
        Assert.Contains("value=\"1 Kept Street\"", bad, StringComparison.Ordinal);
        var mail = await (await Sent(browser, null, ("Form.ReplyTo", "nobody"))).Words();
        Assert.Contains("id=\"replyTo-wrong\"", mail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Somebody_who_does_not_manage_does_not_come_to_it()
    {
        using var browser = await Manages("Fits Only", PracticeRole.Fitter);
        Assert.NotEqual(HttpStatusCode.OK, (await browser.Get(Page)).StatusCode);
    }

    private async Task<Browser> Manages(string name, PracticeRole role) =>
        await service.SignedIn(await service.Member(name, (RunningService.Changing, role)));

    /// <summary>The form as a browser sends it, with a file where one was chosen.</summary>
    private static async Task<HttpResponseMessage> Sent(Browser browser, byte[]? picture, params (string Name, string Value)[] typed)
    {
        using var form = new MultipartFormDataContent();
        foreach (var (name, value) in PageForm.Held(await browser.Page(Page), typed))
            form.Add(new StringContent(value, Encoding.UTF8), name);
        if (picture is not null)
            form.Add(new ByteArrayContent(picture), "Form.Picture", "mark.png");
        return await browser.Client.PostAsync(Page, form);
    }

    private static byte[] SamplePng() =>
        Convert.FromBase64String(
            "iVBORw0KGgoAAAANSUhEUgAAADwAAAAeCAIAAAD/+uoYAAAAM0lEQVR42u3OQQkAAAgEsEtqa/tcCh/CYAGWnbwTaW"
                + "lpaWlpaWlpaWlpaWlpaWlpaekrBRLubxE2tObXAAAAAElFTkSuQmCC"
        );
}
