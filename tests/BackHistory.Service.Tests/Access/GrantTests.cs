using System.Net;
using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Accounts;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Store;
using BackHistory.Service.Access.Letters;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;

namespace BackHistory.Service.Tests.Access;

/// <summary>What people outside a practice are let see of one horse, once they have accepted it.</summary>
public sealed partial class GrantTests(RunningService service)
{
    [Fact]
    public async Task A_vet_accepts_by_the_letter_sees_the_one_horse_and_nothing_of_the_practice()
    {
        using var client = service.Client();
        var horse = await client.Horse("Vetted Horse");
        var vet = await service.Person(RunningService.Mine, "Vet With A Clinic", PersonRole.Veterinarian);
        var grant = await Grant(client, horse, vet, "veterinarian");

        using var browser = service.Browser();
        var welcome = new Uri(Links().Match((await Letter(vet)).TextBody!).Value).AbsolutePath;
        Assert.Contains("They let you see one of their horses", await browser.Page(welcome), StringComparison.Ordinal);
        await browser.Send(welcome, welcome, ("password", "three quiet geldings"));
        await browser.SignIn($"{vet:N}@people.invalid", "three quiet geldings");

        Assert.Contains("Vetted Horse", await browser.Page("/shared-with-me"), StringComparison.Ordinal);
        await browser.Until($"/shared-with-me/{grant}", "Vetted Horse");
        foreach (var path in new[] { "/", $"/horses/{horse}", "/practice/members" }) Assert.Equal(HttpStatusCode.Redirect, (await browser.Get(path)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await browser.Get($"/api/horses/{horse}")).StatusCode);
    }

    [Fact]
    public async Task A_grant_that_was_taken_back_or_is_over_shows_a_sentence_and_leaves_the_list()
    {
        using var client = service.Client();
        var horse = await client.Horse("Granted Horse");
        var (browser, grant) = await Accepted(client, horse, "Physio Until Monday", "physiotherapist");
        using var _ = browser;
        await browser.Until($"/shared-with-me/{grant}", "Granted Horse");
        Assert.Equal(HttpStatusCode.OK, (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants/{grant}/take-back", new { reason = "The course is over." })).StatusCode);

        var gone = await browser.Get($"/shared-with-me/{grant}");
        Assert.Equal(HttpStatusCode.Gone, gone.StatusCode);
        Assert.Contains("This is no longer shared.", await gone.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("Granted Horse", await browser.Page("/shared-with-me"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_persons_grant_answers_as_one_that_was_never_given()
    {
        using var client = service.Client();
        var horse = await client.Horse("Not Yours");
        var (mine, grant) = await Accepted(client, horse, "Grantee One", "veterinarian");
        var (other, _) = await Accepted(client, await client.Horse("Somebody Elses"), "Grantee Two", "veterinarian");
        using var a = mine;
        using var b = other;
        var foreign = await other.Get($"/shared-with-me/{grant}");
        var missing = await other.Get($"/shared-with-me/{Guid.NewGuid()}");
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (foreign.StatusCode, missing.StatusCode));
        Assert.Equal(await missing.Content.ReadAsStringAsync(), await foreign.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task A_person_works_in_two_practices_and_owns_a_horse_in_a_third_and_sees_each_in_its_place()
    {
        var member = await service.Member("Two Practices", (RunningService.Mine, PracticeRole.Fitter), (RunningService.Theirs, PracticeRole.ReadOnly));
        using var mine = service.Client();
        using var theirs = service.Client(RunningService.Theirs);
        using var changing = service.Client(RunningService.Changing);
        var (here, there) = (await mine.Horse("Horse Here"), await theirs.Horse("Horse There"));
        var me = DeterministicId.Of("me in the third");
        await service.Services.GetRequiredService<PracticeQueries>().Save(RunningService.Changing, [new Person(me, "Two Practices", member.Email, null, null, PersonRole.Owner)], CancellationToken.None);
        var own = await changing.Horse("My Own Horse", me);
        var grant = await Grant(changing, own, me, "owner");
        using var browser = await service.SignedIn(member);
        var welcome = await WelcomeOf(grant);
        await browser.Send(welcome, welcome);

        await browser.Until($"/shared-with-me/{grant}", "My Own Horse");
        Assert.Contains("Horse Here", await browser.Page($"/horses/{here}/share"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"/api/horses/{there}")).StatusCode);
        await browser.Send("/me", "/me/practice", ("id", RunningService.Theirs));
        Assert.Equal(HttpStatusCode.OK, (await browser.Get($"/api/horses/{there}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"/api/horses/{here}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get($"/api/horses/{own}")).StatusCode);
        // May look there only, though a fitter here.
        Assert.Equal(HttpStatusCode.Forbidden, (await browser.Client.Write(HttpMethod.Post, "/api/horses", new { name = "x" })).StatusCode);
    }

    [Fact]
    public async Task A_horse_that_moved_to_another_practice_is_seen_by_each_only_in_its_own_history()
    {
        using var old = service.Client();
        using var next = service.Client(RunningService.Theirs);
        var horse = await old.Horse("Moving Horse");
        var (browser, grant) = await Accepted(old, horse, "Fitter Of The Next Practice", "another-practice");
        using var _ = browser;
        // Handed over: the next practice reads the whole record while it holds, and goes on in a history of its own.
        await browser.Until($"/shared-with-me/{grant}", "Saddle work");
        var moved = await next.Horse("Moving Horse");
        await old.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants/{grant}/take-back", new { });

        Assert.Equal(HttpStatusCode.Gone, (await browser.Get($"/shared-with-me/{grant}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await old.GetAsync($"/api/horses/{moved}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await next.GetAsync($"/api/horses/{horse}")).StatusCode);
    }

    [Fact]
    public async Task An_owners_grant_ends_with_the_sale_and_the_buyer_needs_one_of_their_own()
    {
        using var client = service.Client();
        var seller = await service.Person(RunningService.Mine, "Seller");
        var horse = await client.Horse("Sold And Granted", seller);
        var grant = await Grant(client, horse, seller, "owner");
        var wrong = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants", new { personId = await service.Person(RunningService.Mine, "Not The Owner"), role = "owner" });
        Assert.Equal("not-the-owner", (await wrong.Json()).GetProperty("code").GetString());

        var now = TimeProvider.System.GetUtcNow();
        await service.Services.GetRequiredService<Commands>().Execute<Horse>(
            new CommandContext(RunningService.Mine, Guid.Empty, "sold and granted", "", null, now), horse, _ => Decided.Yes(new OwnerChanged(null, now, Guid.Empty)), CancellationToken.None);
        var listed = (await (await client.GetAsync($"/api/horses/{horse}/sharing")).Json()).GetProperty("grants")[0];
        Assert.Equal((grant, false), (listed.GetProperty("id").GetGuid(), listed.GetProperty("holds").GetBoolean()));
    }

    [Fact]
    public async Task Only_a_manager_shares_and_everybody_sees_who_did()
    {
        var fitter = await service.Member("Sharing Fitter", (RunningService.Mine, PracticeRole.Fitter));
        using var manager = service.Client();
        using var client = await service.Client(fitter, RunningService.Mine);
        var horse = await manager.Horse("Shared By A Manager");
        Assert.Equal(HttpStatusCode.Forbidden, (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian" })).StatusCode);
        Assert.Equal(HttpStatusCode.Created, (await manager.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "veterinarian" })).StatusCode);
        var link = (await (await client.GetAsync($"/api/horses/{horse}/sharing")).Json()).GetProperty("links")[0];
        Assert.Equal(DeterministicId.Of("person", RunningService.Mine, "Administrator"), link.GetProperty("madeBy").GetGuid());
        // The address itself is for those who may share.
        Assert.Equal(System.Text.Json.JsonValueKind.Null, link.GetProperty("url").ValueKind);
    }

    private async Task<(Browser Browser, Guid Grant)> Accepted(HttpClient client, Guid horse, string name, string role)
    {
        var member = await service.Member(name);
        var id = DeterministicId.Of("accepting", name);
        await service.Services.GetRequiredService<PracticeQueries>().Save(RunningService.Mine, [new Person(id, name, member.Email, null, null, PersonRole.Veterinarian)], CancellationToken.None);
        var grant = await Grant(client, horse, id, role);
        var browser = await service.SignedIn(member);
        var welcome = await WelcomeOf(grant);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Send(welcome, welcome)).StatusCode);
        return (browser, grant);
    }

    private static async Task<Guid> Grant(HttpClient client, Guid horse, Guid person, string role)
    {
        var answer = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/grants", new { personId = person, role });
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        return (await answer.Json()).GetProperty("id").GetGuid();
    }

    private async Task<string> WelcomeOf(Guid grant)
    {
        var invitation = await service.Services.GetRequiredService<Invitations>().Load(DeterministicId.Of("invitation", grant.ToString()), CancellationToken.None);
        return new Uri(service.Services.GetRequiredService<AccountLinks>().Accept(invitation!)).AbsolutePath;
    }

    private async Task<MimeMessage> Letter(Guid person)
    {
        for (var i = 0; i < 600; i++)
        {
            foreach (var file in Directory.Exists(service.MailFolder) ? Directory.GetFiles(service.MailFolder, "*.eml") : [])
            {
                try
                {
                    var message = await MimeMessage.LoadAsync(file);
                    if (message.To.Mailboxes.Any(m => m.Address == $"{person:N}@people.invalid")) return message;
                }
                catch (Exception e) when (e is FormatException or IOException)
                {
                    // Being written at this moment.
                }
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException("the letter did not come in a minute");
    }

    [GeneratedRegex(@"http\S+/welcome/\S+", RegexOptions.None, 1000)]
    private static partial Regex Links();
}
