using System.Globalization;
using BackHistory.Application.Access;
using BackHistory.Service.Access.Letters;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using OtpNet;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A practice of which nothing is there but the link that its first administrator opens.</summary>
public sealed class FirstHourTests(RunningPractice practice)
{
    private const string Password = "three quiet geldings";

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task The_first_administrator_comes_in_by_a_link_and_is_led_to_the_first_horse(int width)
    {
        var email = string.Create(CultureInfo.InvariantCulture, $"first{width}@practice.invalid");
        var (invitation, refused) = await practice
            .Services.GetRequiredService<OpenPractice>()
            .Do(new(Guid.NewGuid(), email, string.Create(CultureInfo.InvariantCulture, $"First Hour {width}"), "Europe/Berlin"), default);
        Assert.Null(refused);
        await using var window = await practice.Stranger(Screen.Of(width));
        var page = await window.NewPageAsync();
        var errors = new List<string>();
        page.PageError += (_, e) => errors.Add(e);

        await page.GotoAsync(EveryScreen.PathOf(practice.Services.GetRequiredService<AccountLinks>().Accept(invitation!)));
        await page.GetByLabel("Your name").FillAsync("Ada Marsh");
        await page.GetByLabel("Choose a password").FillAsync(Password);
        await Press("Accept");
        await page.GetByLabel("E-mail").FillAsync(email);
        await page.GetByLabel("Password").FillAsync(Password);
        await Press("Sign in");
        await Press("Set up codes");
        var secret = (await page.Locator("code.secret").InnerTextAsync()).Replace(" ", "", StringComparison.Ordinal);
        await page.GetByLabel("Code")
            .FillAsync(new Totp(Base32Encoding.ToBytes(secret)).ComputeTotp(TestClock.Running.GetUtcNow().ToUniversalTime().DateTime));
        await Press("Use codes from now on");
        await Expect(page.Locator(".codes code")).ToHaveCountAsync(10);
        var shown = await page.Locator(".codes code").First.InnerTextAsync();
        Assert.DoesNotContain("codes=", page.Url, StringComparison.Ordinal);
        await page.ReloadAsync();
        await Expect(page.GetByText(shown)).ToHaveCountAsync(0);
        await Follow("Go on");
        await Follow("First steps of a practice");
        await Expect(page.Locator(".steps .ready")).ToHaveCountAsync(0);
        Assert.Null(await page.Keep(string.Create(CultureInfo.InvariantCulture, $"first-hour-{width}")));

        // Each step leads somewhere, and what was done there is marked.
        var ways = await page.Locator(".steps a").EvaluateAllAsync<string[]>("all => all.map(a => a.getAttribute('href'))");
        foreach (var way in ways)
        {
            // Two steps of one page differ in their fold alone, and from one to the other the browser asks nobody.
            await page.GotoAsync("about:blank");
            var answer = await page.GotoAsync(way);
            Assert.True(answer!.Ok, $"{way}: {answer.Status}");
            await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
            if (way.Split('#') is [_, var fold])
                await Expect(page.Locator($"#{fold}")).ToBeVisibleAsync();
        }

        await page.GotoAsync("/practice/start");
        await Follow("Add a person");
        await page.GetByLabel("Name").FillAsync("Robin Field");
        await Press("Add");
        await page.GotoAsync("/practice/start");
        await page.Locator("#horses").GetByRole(AriaRole.Link, new() { Name = "Register a horse" }).ClickAsync();
        await page.GetByLabel("Name", new() { Exact = true }).First.FillAsync("Bramble");
        await page.GetByLabel("or its age in years").FillAsync("12");
        await Press("Register");
        // An age is a year: nobody said a day.
        await Expect(page.GetByText("born 2014", new() { Exact = false })).ToBeVisibleAsync();
        await page.GotoAsync("/practice/start");
        await Expect(page.Locator(".steps .ready")).ToHaveCountAsync(2);
        await Follow("Record a visit to Bramble");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" })).ToBeVisibleAsync();
        Assert.Empty(errors);

        Task Press(string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true }).ClickAsync();
        Task Follow(string name) => page.GetByRole(AriaRole.Link, new() { Name = name, Exact = true }).ClickAsync();
    }
}
