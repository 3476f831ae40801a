using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>Two people, one telephone: what was entered without a connection stays with whoever entered it.</summary>
public sealed class SharedDeviceTests(RunningPractice practice)
{
    private const string Own = "two-hands";

    [Fact]
    public async Task A_visit_that_waits_is_not_sent_by_the_next_person_who_signs_in_on_the_device_but_by_whoever_entered_it()
    {
        await using var window = await practice.OwnPractice(Own, Screen.Phone, keeps: true);
        using var program = practice.Program(Own);
        var (first, second) = ($"administrator@{Own}.invalid.members.invalid", $"second@{Own}.members.invalid");
        var secondPerson = await practice.Person(Own, "Second Fitter", PersonRole.Fitter);
        await practice.SignIn(second, new Membership(Own, secondPerson, PracticeRole.Fitter));
        // Two horses: two visits to one on one day would be asked about, which is another matter.
        var (horse, next) = (await Horse(program, "Two Hands"), await Horse(program, "Third Hand"));
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync($"/horses/{horse}/visits/new"))!.Ok);
        await Yard.IsKept(page);
        await window.SetOfflineAsync(true);
        await Yard.Stands(page);
        await page.GetByLabel("Weight, kg").FillAsync("533");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        await Expect(page.GetByText("Saved on this device.")).ToBeVisibleAsync();
        // A second one is begun and not saved.
        await page.GotoAsync($"/horses/{horse}/visits/new");
        await page.GetByLabel("What else was found").FillAsync("Between two people.");

        // The session ends on the way home: nobody pressed "sign out".
        await window.ClearCookiesAsync();
        await window.SetOfflineAsync(false);
        await SignIn(page, second);
        await Expect(page.Locator("#waiting")).ToContainTextAsync("Two Hands,");
        await Expect(page.Locator("#waiting")).ToContainTextAsync("entered by Administrator");
        Assert.Null(await page.Keep("shared-device-1-of-another"));
        await page.GotoAsync($"/horses/{horse}/visits/new");
        await Expect(page.Locator("#waiting")).ToContainTextAsync("entered by Administrator");
        await Expect(page.GetByLabel("What else was found")).ToHaveValueAsync("");
        // What the second person enters goes its way at once.
        await page.GotoAsync($"/horses/{next}/visits/new");
        await Yard.Stands(page);
        await page.GetByLabel("Weight, kg").FillAsync("544");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        Assert.Equal(secondPerson, (await Yard.Recorded(program, next, 544)).GetProperty("by").GetGuid());
        // On record before its answer is on the page, which opens the visit then: whoever goes on meanwhile is called back.
        await Expect(page).ToHaveURLAsync(new Regex("saved=visit$"));
        Assert.Equal(0, (await program.GetFromJsonAsync<JsonElement>($"/api/horses/{horse}/visits")).GetArrayLength());

        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Button, new() { Name = "Menu" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await Expect(page.GetByLabel("E-mail")).ToBeVisibleAsync();
        await SignIn(page, first);
        var mine = await Yard.Recorded(program, horse, 533);
        Assert.NotEqual(secondPerson, mine.GetProperty("by").GetGuid());
        await Expect(page.Locator("#waiting")).ToBeHiddenAsync();
        await page.GotoAsync($"/horses/{horse}/visits/new");
        await Expect(page.GetByLabel("What else was found")).ToHaveValueAsync("Between two people.");
    }

    private static async Task SignIn(IPage page, string email)
    {
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("E-mail").FillAsync(email);
        await page.GetByLabel("Password").FillAsync(ServedHost.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Caseload" })).ToBeVisibleAsync();
    }

    private static async Task<Guid> Horse(HttpClient program, string name)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/horses")
        {
            Content = JsonContent.Create(
                new
                {
                    name,
                    foaled = "2015-05-01",
                    heightMm = 1600,
                }
            ),
        };
        request.Headers.Add("Idempotency-Key", name);
        request.Headers.IfMatch.Add(EntityTagHeaderValue.Any);
        var made = await program.SendAsync(request);
        made.EnsureSuccessStatusCode();
        return (await made.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetGuid();
    }
}
