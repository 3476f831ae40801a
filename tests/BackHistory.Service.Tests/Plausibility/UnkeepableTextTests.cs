using System.Net;
using System.Text;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Plausibility;

/// <summary>Text that PostgreSQL cannot keep, typed into a page.</summary>
public sealed class UnkeepableTextTests(RunningService service)
{
    [Theory]
    [InlineData("month=2026%0012&key=a")]
    [InlineData("mon%00th=2026-12&key=a")]
    public async Task A_form_in_which_a_field_holds_NUL_changes_nothing_and_is_told_so(string fields)
    {
        var typist = await service.Member($"Typist {fields.Length}", (RunningService.Mine, PracticeRole.Fitter));
        using var browser = await service.SignedIn(typist);
        using var form = new StringContent(fields, Encoding.UTF8, "application/x-www-form-urlencoded");
        var answer = await browser.Client.PostAsync("/plan", form);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("cannot be kept", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_form_in_parts_in_which_a_field_holds_NUL_is_told_so_too()
    {
        using var browser = await service.SignedIn(await service.Member("Typist in parts", (RunningService.Mine, PracticeRole.Fitter)));
        using var form = new MultipartFormDataContent { { new StringContent("2026\0-12"), "month" } };
        Assert.Equal(HttpStatusCode.BadRequest, (await browser.Client.PostAsync("/plan", form)).StatusCode);
    }

    [Fact]
    public async Task Somebody_who_signs_in_with_NUL_is_told_so()
    {
        using var browser = service.Browser();
        using var form = new StringContent("email=a%00b&password=c", Encoding.UTF8, "application/x-www-form-urlencoded");
        Assert.Equal(HttpStatusCode.BadRequest, (await browser.Client.PostAsync("/sign-in", form)).StatusCode);
    }
}
