using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>Signing in with an account elsewhere, as a browser lets it happen: its own policy holds a form back that leads to another
/// site.</summary>
public sealed class SignInServiceTests(RunningPractice practice) : IAsyncLifetime
{
    private const string Practice = "elsewhere";
    private const string Email = "signs.in.elsewhere@members.invalid";
    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-elsewhere-");
    private OpenIdProvider _provider = null!;
    private ServedHost _host = null!;

    public async ValueTask InitializeAsync()
    {
        _provider = await OpenIdProvider.Start();
        _host = await ServedHost.Start(
            await TestServer.NewDatabase(),
            _state.FullName,
            s => s with { Access = s.Access with { External = [_provider.Settings] } },
            Practice
        );
        using var scope = _host.Services.CreateScope();
        var person = await _host.Person(Practice, "Signs In Elsewhere");
        var account = new Account
        {
            Id = DeterministicId.From(Email),
            Email = Email,
            EmailConfirmed = true,
            Invented = true,
            Memberships = [new Membership(Practice, person, PracticeRole.Fitter)],
        };
        Assert.True(
            (await scope.ServiceProvider.GetRequiredService<UserManager<Account>>().CreateAsync(account, ServedHost.Password)).Succeeded
        );
    }

    public async ValueTask DisposeAsync()
    {
        await _host.DisposeAsync();
        await _provider.DisposeAsync();
        _state.Delete(recursive: true);
    }

    [Fact]
    public async Task Somebody_ties_an_account_elsewhere_signs_out_and_signs_in_with_it()
    {
        await using var window = await practice.Stranger(Screen.Desk, of: _host.Address);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/sign-in?returnUrl=%2Fme%2Fsign-in-services");
        await page.GetByLabel("E-mail").FillAsync(Email);
        await page.GetByLabel("Password").FillAsync(ServedHost.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add" }).ClickAsync();
        await Assertions.Expect(page.GetByText("signs you in")).ToBeVisibleAsync();

        await page.GotoAsync("/me");
        await page.Locator("form[action='/sign-out'] button").First.ClickAsync();
        await page.WaitForURLAsync("**/sign-in");
        await page.GotoAsync("/saddles");
        await page.GetByRole(AriaRole.Button, new() { Name = $"Sign in with {OpenIdProvider.Name}" }).ClickAsync();
        await page.WaitForURLAsync("**/saddles");
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Saddles", Exact = true })).ToBeVisibleAsync();

        // Who is not let in there is told so here.
        await page.GotoAsync("/me");
        await page.Locator("form[action='/sign-out'] button").First.ClickAsync();
        await page.WaitForURLAsync("**/sign-in");
        _provider.Declines = true;
        await page.GetByRole(AriaRole.Button, new() { Name = $"Sign in with {OpenIdProvider.Name}" }).ClickAsync();
        await Assertions
            .Expect(page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "Signing in with the other service did not work." }))
            .ToBeVisibleAsync();
    }
}
