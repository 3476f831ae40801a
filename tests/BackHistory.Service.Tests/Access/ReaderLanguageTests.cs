namespace BackHistory.Service.Tests.Access;

/// <summary>Pages of links that do not hold: nobody knows who reads them, so they speak as the browser asks.</summary>
public sealed class ReaderLanguageTests(RunningService service)
{
    private const string English = "it does not diagnose";
    private const string German = "es stellt keine Diagnosen";

    [Theory]
    [InlineData("/look/nothing", "This link does not work.", "Dieser Link funktioniert nicht.")]
    [InlineData("/letter/nothing", "This link does not work any more.", "Dieser Link gilt nicht mehr.")]
    [InlineData("/welcome/nothing", "This invitation does not hold any more.", "Diese Einladung gilt nicht mehr.")]
    [InlineData("/new-password/nothing", "This link does not work any more.", "Dieser Link gilt nicht mehr.")]
    [InlineData("/confirm-address/nothing", "This link does not work any more.", "Dieser Link gilt nicht mehr.")]
    public async Task A_link_that_does_not_hold_and_the_foot_of_its_page_speak_as_the_browser_asks(string path, string en, string de)
    {
        var inEnglish = await Read(path, null);
        Assert.Contains(en, inEnglish, StringComparison.Ordinal);
        Assert.Contains(English, inEnglish, StringComparison.Ordinal);
        var inGerman = await Read(path, "de-AT,de;q=0.9,en;q=0.5");
        Assert.Contains(de, inGerman, StringComparison.Ordinal);
        Assert.Contains(German, inGerman, StringComparison.Ordinal);
        Assert.DoesNotContain(English, inGerman, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en-GB,de;q=0.9", English)]
    [InlineData("en;q=0.3, de;q=0.8", German)]
    [InlineData("fr, DE;q=0.2", German)]
    [InlineData("de;q=0, *", English)]
    [InlineData("fr", English)]
    public async Task Of_several_languages_the_one_asked_for_most_counts_of_those_that_there_are(string asked, string foot) =>
        Assert.Contains(foot, await Read("/letter/nothing", asked), StringComparison.Ordinal);

    private async Task<string> Read(string path, string? asked)
    {
        using var browser = service.Anonymous();
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        if (asked is not null)
            request.Headers.TryAddWithoutValidation("Accept-Language", asked);
        return await (await browser.SendAsync(request)).Content.ReadAsStringAsync();
    }
}
