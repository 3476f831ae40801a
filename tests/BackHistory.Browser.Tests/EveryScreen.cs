using System.Net.Http.Json;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Browser.Tests;

/// <param name="Route">As the page says it.</param>
/// <param name="Path">An address of it at which there is something to see.</param>
/// <param name="SignedIn">Looked at by somebody of the practice.</param>
public sealed record Look(string Route, string Path, bool SignedIn = true)
{
    /// <summary>The route as the name of a file.</summary>
    public string Name =>
        string.Concat(Route.Trim('/').Replace('/', '-').Where(c => char.IsAsciiLetterOrDigit(c) || c == '-')) is { Length: > 0 } name
            ? name
            : "caseload";

    public override string ToString() => Path.Length < 70 ? Path : Route;
}

/// <summary>Every page that the service serves, each at addresses where there is something to see.</summary>
internal sealed class EveryScreen
{
    private readonly RunningPractice practice;

    private EveryScreen(RunningPractice practice) => this.practice = practice;

    private const string Tenant = ServedHost.InventedTenant;

    /// <summary>The routes of all pages, from the service itself.</summary>
    public IReadOnlyList<string> Routes =>
        [
            .. practice
                .Services.GetRequiredService<IEnumerable<EndpointDataSource>>()
                .SelectMany(s => s.Endpoints)
                .OfType<RouteEndpoint>()
                .Where(e => e.Metadata.GetMetadata<ComponentTypeMetadata>() is not null)
                .Select(e => "/" + e.RoutePattern.RawText!.TrimStart('/'))
                .Distinct()
                .Order(StringComparer.Ordinal),
        ];

    public IReadOnlyList<Look> All { get; private init; } = [];

    /// <summary>Pages that have no address here.</summary>
    public IReadOnlyList<string> Forgotten { get; private init; } = [];

    public static async Task<EveryScreen> Of(RunningPractice practice)
    {
        var screen = new EveryScreen(practice);
        var places = await screen.Places();
        return new EveryScreen(practice)
        {
            All = [.. screen.Routes.SelectMany(route => places.GetValueOrDefault(route, []))],
            Forgotten = [.. screen.Routes.Where(route => !places.ContainsKey(route))],
        };
    }

    private async Task<Dictionary<string, Look[]>> Places()
    {
        using var program = practice.Program();
        var horse = await AHorse(program, h => h.Measure is not null && h.OwnerId is not null);
        var visit = await Visit(program, horse);
        var saddle = (await practice.Services.GetRequiredService<HorseQueries>().Profile(Tenant, horse, CancellationToken.None))!
            .Fits[^1]
            .SaddleId;
        var other = await AHorse(program, h => h.HorseId != horse);
        var person = (await practice.Services.GetRequiredService<HorseQueries>().Load(Tenant, horse, CancellationToken.None))!
            .OwnerId!
            .Value;
        var yard = (await practice.Services.GetRequiredService<PracticeQueries>().Yards(Tenant, CancellationToken.None))[0].Id;
        var withdrawn = (await Write(program, "/api/horses", new { name = "By Mistake" })).GetProperty("id").GetGuid();
        await Write(program, $"/api/horses/{withdrawn}/withdraw", new { reason = "It is no horse of ours." });
        var note = (await Write(program, $"/api/horses/{horse}/care", new { kind = "growth", from = "2026-11-02" }))
            .GetProperty("made")
            .GetGuid();
        var work = (await Write(program, $"/api/horses/{horse}/work", new { load = "light" })).GetProperty("made").GetGuid();
        var file = await Picture(program, $"/api/horses/{horse}");
        // The pages of what was noted last are there once the read model is.
        var horses = practice.Services.GetRequiredService<HorseQueries>();
        await RunningPractice.Until(async () =>
            (await horses.Profile(Tenant, horse, CancellationToken.None))!.Files.Any(f => f.File.FileId == file)
        );
        var lent = await Lent(program, saddle, other);
        var study = await Study(program);
        var calendar = (await Write(program, "/api/calendar-feeds", new { name = "The telephone" })).GetProperty("id").GetGuid();
        var webhook = (await Write(program, "/api/webhooks", new { url = "https://listens.example.org/told" })).GetProperty("id").GetGuid();
        var (right, put) = await PutRight(program);
        var visits = $"/horses/{right}/visits";
        var (grant, welcome) = await Grant(program, horse);
        var answers = practice.Services.GetRequiredService<AnswerLinks>();
        var raised = (await program.GetFromJsonAsync<JsonElement>("/api/reminders")).GetProperty("items")[0];
        var reminder = raised.GetProperty("id").GetGuid();
        var asked = (await horses.Load(Tenant, raised.GetProperty("horseId").GetGuid(), CancellationToken.None))!.OwnerId!.Value;
        var account = (
            await practice.Services.GetRequiredService<AccountDocuments>().ByEmail("MANAGER@PRACTICE.INVALID", CancellationToken.None)
        )!;
        var links = practice.Services.GetRequiredService<AccountLinks>();
        Look[] Of(string route, params string[] paths) => [.. paths.Select(p => new Look(route, p))];
        Look[] OfVisit(string page, params string[] paths) => Of($"/horses/{{HorseId:guid}}/visits/{{VisitId:guid}}/{page}", paths);
        Look[] Outside(string route, params string[] paths) => [.. paths.Select(p => new Look(route, p, SignedIn: false))];
        var all = new[]
        {
            Of("/", "/", "/?q=nobody-of-that-name"),
            Of("/reminders", "/reminders", "/reminders?state=booked", "/reminders?q=nobody-of-that-name&sort=oldest"),
            Of("/reminders/{ReminderId:guid}/book", $"/reminders/{reminder}/book"),
            Of("/reminders/{ReminderId:guid}/write-again", $"/reminders/{reminder}/write-again"),
            Of("/reminders/many/close", $"/reminders/many/close?of={reminder}", "/reminders/many/close"),
            Of("/reminders/many/put-off", $"/reminders/many/put-off?of={reminder}"),
            Of("/reminders/many/write-again", $"/reminders/many/write-again?of={reminder}"),
            Of("/plan", "/plan", "/plan?sort=urgent&weeks=2"),
            Of("/plan/day", "/plan/day?on=2026-11-26"),
            Of("/plan/route", "/plan/route"),
            Of("/reminders/first-letters", "/reminders/first-letters"),
            Of("/saddles", "/saddles", $"/saddles?horse={horse}"),
            Of("/saddles/{SaddleId:guid}", $"/saddles/{saddle}?horse={horse}", $"/saddles/{lent.Saddle}"),
            Of("/saddles/new", "/saddles/new"),
            Of("/saddles/{SaddleId:guid}/details", $"/saddles/{saddle}/details"),
            Of("/saddles/{SaddleId:guid}/owner", $"/saddles/{saddle}/owner"),
            Of("/saddles/{SaddleId:guid}/parts", $"/saddles/{saddle}/parts"),
            Of("/saddles/{SaddleId:guid}/move", $"/saddles/{saddle}/move", $"/saddles/{lent.Saddle}/move"),
            Of("/saddles/{SaddleId:guid}/take-off", $"/saddles/{saddle}/take-off"),
            Of("/saddles/{SaddleId:guid}/sell", $"/saddles/{saddle}/sell"),
            Of("/saddles/{SaddleId:guid}/withdraw", $"/saddles/{saddle}/withdraw", $"/saddles/{lent.Saddle}/withdraw"),
            Of(
                "/saddles/{SaddleId:guid}/work/new",
                $"/saddles/{saddle}/work/new?horse={horse}",
                $"/saddles/{saddle}/work/new?kind=flocked"
            ),
            Of("/saddles/{SaddleId:guid}/work/{WorkId:guid}/correct", $"/saddles/{saddle}/work/{lent.Work}/correct"),
            Of("/saddles/{SaddleId:guid}/work/{WorkId:guid}/withdraw", $"/saddles/{saddle}/work/{lent.Work}/withdraw"),
            Of("/saddles/{SaddleId:guid}/trials/new", $"/saddles/{lent.Saddle}/trials/new"),
            Of("/saddles/{SaddleId:guid}/trials/{TrialId:guid}/end", $"/saddles/{lent.Saddle}/trials/{lent.Trial}/end"),
            Of("/saddles/{SaddleId:guid}/pads/new", $"/saddles/{saddle}/pads/new"),
            Of("/saddles/{SaddleId:guid}/pads/{PadId:guid}/remove", $"/saddles/{lent.Saddle}/pads/{lent.Pad}/remove"),
            Of("/saddles/{SaddleId:guid}/files", $"/saddles/{lent.Saddle}/files"),
            Of("/saddles/{SaddleId:guid}/files/{FileId:guid}/remove", $"/saddles/{lent.Saddle}/files/{lent.File}/remove"),
            Of("/horses/{HorseId:guid}", $"/horses/{horse}"),
            Of("/horses/{HorseId:guid}/visits/new", $"/horses/{horse}/visits/new"),
            Of("/visits/waiting", "/visits/waiting"),
            Of(
                "/horses/{HorseId:guid}/visits/{VisitId:guid}",
                $"/horses/{horse}/visits/{visit}",
                $"{visits}/{put.Corrected}",
                $"{visits}/{put.Gone}"
            ),
            OfVisit("more", $"{visits}/{put.Corrected}/more"),
            OfVisit("details", $"{visits}/{put.Corrected}/details"),
            OfVisit("withdraw", $"{visits}/{put.Corrected}/withdraw"),
            OfVisit("merge", $"{visits}/{put.Corrected}/merge", $"{visits}/{put.Corrected}/merge?into={put.Waits}"),
            OfVisit("give", $"{visits}/{put.Corrected}/give?q=a", $"{visits}/{put.Corrected}/give?to={horse}"),
            OfVisit("confirm", $"{visits}/{put.Waits}/confirm"),
            OfVisit("send-back", $"{visits}/{put.Waits}/send-back"),
            OfVisit("put-back", $"{visits}/{put.Gone}/put-back"),
            OfVisit("entries/{EntryId:guid}", [.. put.Standing.Select(e => $"{visits}/{put.Corrected}/entries/{e}")]),
            OfVisit("entries/{EntryId:guid}/withdraw", $"{visits}/{put.Corrected}/entries/{put.Standing[0]}/withdraw"),
            OfVisit("entries/{EntryId:guid}/put-back", $"{visits}/{put.Corrected}/entries/{put.Struck}/put-back"),
            Of(
                "/horses/{HorseId:guid}/visits/{VisitId:guid}/desk",
                $"/horses/{horse}/visits/{visit}/desk",
                $"/horses/{horse}/visits/{visit}/desk?Station=topline"
            ),
            Of("/horses/{HorseId:guid}/visits/new/desk", $"/horses/{horse}/visits/new/desk"),
            Of("/horses/{HorseId:guid}/compare", $"/horses/{horse}/compare"),
            Of("/horses/{HorseId:guid}/share", $"/horses/{horse}/share"),
            Of("/horses/new", "/horses/new"),
            Of("/horses/{HorseId:guid}/details", $"/horses/{horse}/details"),
            Of("/horses/{HorseId:guid}/owner", $"/horses/{horse}/owner"),
            Of("/horses/{HorseId:guid}/yard", $"/horses/{horse}/yard"),
            Of("/horses/{HorseId:guid}/withdraw", $"/horses/{horse}/withdraw"),
            Of("/horses/{HorseId:guid}/put-back", $"/horses/{withdrawn}/put-back"),
            Of("/horses/{HorseId:guid}/merge", $"/horses/{horse}/merge", $"/horses/{horse}/merge?into={other}"),
            Of("/horses/{HorseId:guid}/known", $"/horses/{horse}/known", $"/horses/{horse}/known?at=1999-01-01"),
            Of("/horses/{HorseId:guid}/care-roles", $"/horses/{horse}/care-roles"),
            Of("/horses/{HorseId:guid}/care-roles/end", $"/horses/{horse}/care-roles/end?person={person}&role=Rider"),
            Of("/horses/{HorseId:guid}/work", $"/horses/{horse}/work"),
            Of("/horses/{HorseId:guid}/work/{WorkId:guid}/withdraw", $"/horses/{horse}/work/{work}/withdraw"),
            Of("/horses/{HorseId:guid}/care", $"/horses/{horse}/care"),
            Of("/horses/{HorseId:guid}/care/{NoteId:guid}", $"/horses/{horse}/care/{note}"),
            Of("/horses/{HorseId:guid}/care/{NoteId:guid}/end", $"/horses/{horse}/care/{note}/end"),
            Of("/horses/{HorseId:guid}/care/{NoteId:guid}/withdraw", $"/horses/{horse}/care/{note}/withdraw"),
            Of("/horses/{HorseId:guid}/files", $"/horses/{horse}/files"),
            Of("/horses/{HorseId:guid}/files/{FileId:guid}/remove", $"/horses/{horse}/files/{file}/remove"),
            Of("/people", "/people", "/people?q=nobody-of-that-name"),
            Of("/people/new", "/people/new"),
            Of("/people/{PersonId:guid}", $"/people/{person}"),
            Of("/people/{PersonId:guid}/details", $"/people/{person}/details"),
            Of("/people/{PersonId:guid}/erase", $"/people/{person}/erase"),
            Of("/yards", "/yards"),
            Of("/yards/new", "/yards/new"),
            Of("/yards/{YardId:guid}", $"/yards/{yard}"),
            Of("/yards/{YardId:guid}/details", $"/yards/{yard}/details"),
            Of("/find", "/find", "/find?q=a", "/find?q=nobody-of-that-name"),
            Of("/practice", "/practice"),
            Of("/practice/protocol", "/practice/protocol"),
            Of("/people/{PersonId:guid}/consents", $"/people/{person}/consents"),
            Of("/yards/{YardId:guid}/remove", $"/yards/{yard}/remove"),
            Of("/horses/{HorseId:guid}/identity", $"/horses/{horse}/identity"),
            Of("/practice/contact", "/practice/contact"),
            Of("/practice/thresholds", "/practice/thresholds"),
            Of("/practice/gauges", "/practice/gauges"),
            Of(
                "/practice/gauges/table",
                "/practice/gauges/table?gauge=bench",
                "/practice/gauges/table?gauge=another",
                "/practice/gauges/table?gauge=Bench%201"
            ),
            Of("/practice/reminders", "/practice/reminders"),
            Of("/practice/letters", "/practice/letters"),
            Of(
                "/practice/letters/{Kind}/{Language}",
                "/practice/letters/owner-refit/en",
                "/practice/letters/manager-digest/de",
                "/practice/letters/no-such-letter/en"
            ),
            Of("/practice/studies", "/practice/studies"),
            Of("/practice/studies/{StudyId:guid}", $"/practice/studies/{study}"),
            Of("/practice/members", "/practice/members"),
            Of("/practice/changes", "/practice/changes"),
            Of("/practice/months", "/practice/months"),
            Of("/practice/start", "/practice/start"),
            Of("/practice/bring-in", "/practice/bring-in"),
            Of("/practice/audit", "/practice/audit"),
            Of("/practice/webhooks", "/practice/webhooks"),
            Of("/practice/webhooks/{WebhookId:guid}/start", $"/practice/webhooks/{webhook}/start"),
            Of("/practice/webhooks/{WebhookId:guid}/remove", $"/practice/webhooks/{webhook}/remove"),
            Of("/me", "/me"),
            Of("/me/keys", "/me/keys"),
            Of("/me/calendars", "/me/calendars"),
            Of("/me/calendars/{FeedId:guid}/end", $"/me/calendars/{calendar}/end"),
            Of("/me/sessions", "/me/sessions"),
            Of("/me/second-factor", "/me/second-factor"),
            Of("/me/sign-in-services", "/me/sign-in-services"),
            Of("/sign-in/again", "/sign-in/again"),
            Of("/shared-with-me", "/shared-with-me"),
            Of("/shared-with-me/{GrantId:guid}", $"/shared-with-me/{grant}"),
            Of("/nothing-here", "/nothing-here"),
            Of("/not-yours", "/not-yours"),
            Outside("/sign-in", "/sign-in", "/sign-in?failed=1"),
            Outside("/sign-in/code", "/sign-in/code"),
            Outside("/forgotten", "/forgotten"),
            Outside("/new-password/{Token}", PathOf(links.NewPassword(account)), "/new-password/altered"),
            Outside("/confirm-address/{Token}", PathOf(links.ConfirmAddress(account, "new@members.invalid"))),
            Outside("/welcome/{Token}", welcome),
            Outside(
                "/letter/{Token}",
                PathOf(answers.Answer(Tenant, reminder, Answer.Book, asked)),
                PathOf(answers.Answer(Tenant, reminder, Answer.NotNeeded, asked, "de")),
                PathOf(answers.Move(Tenant, reminder, asked)),
                $"{PathOf(answers.Move(Tenant, reminder, asked))}?cancel=1",
                "/letter/altered"
            ),
            Outside(
                "/look/{Token}",
                await Link(program, horse, "owner"),
                await Link(program, horse, "veterinarian"),
                await Link(program, horse, "another-practice"),
                "/look/altered"
            ),
        };
        return all.ToDictionary(looks => looks[0].Route, StringComparer.Ordinal);
    }

    /// <summary>A horse with a visit that was put right, one that was withdrawn, and one that waits to be confirmed.</summary>
    private async Task<(Guid Horse, PutRightVisits Visits)> PutRight(HttpClient program)
    {
        var horse = await Visits.Horse(program, "Zz Put Right");
        var (wrong, note) = (Guid.CreateVersion7(), Guid.CreateVersion7());
        var corrected = await Visits.Enter(
            program,
            horse,
            new
            {
                kind = "weight",
                value = 512,
                unit = "kg",
                entryId = wrong,
            },
            new
            {
                kind = "note",
                words = "Ticklish behind the left shoulder.",
                entryId = note,
            }
        );
        var weight = Guid.CreateVersion7();
        var entry = new
        {
            kind = "weight",
            value = 521,
            unit = "kg",
            entryId = weight,
        };
        await Write(program, $"/api/horses/{horse}/visits/{corrected}/entries/{wrong}/correct", new { entry, reason = "Read wrongly." });
        var gone = await Visits.Enter(program, horse, new { kind = "condition", score = 5 });
        await Write(program, $"/api/horses/{horse}/visits/{gone}/withdraw", new { reason = "Another horse." });
        await using var apprentice = await practice.SignedIn(PracticeRole.Apprentice, Screen.Desk);
        var waits = await Visits.ByApprentice(apprentice, horse, 515);
        return (horse, new PutRightVisits(corrected, gone, waits, [weight, note], wrong));
    }

    private sealed record PutRightVisits(Guid Corrected, Guid Gone, Guid Waits, IReadOnlyList<Guid> Standing, Guid Struck);

    /// <summary>A saddle that another horse tries, with a pad under it and a picture of it; and a piece of work on the first
    /// saddle.</summary>
    private static async Task<(Guid Saddle, Guid Work, Guid Trial, Guid Pad, Guid File)> Lent(HttpClient program, Guid saddle, Guid other)
    {
        var work = (await program.GetFromJsonAsync<JsonElement>($"/api/saddles/{saddle}")).GetProperty("work")[0].GetProperty("workId");
        var lent = (await Write(program, "/api/saddles", new { label = "Lent out" })).GetProperty("id").GetGuid();
        var trial = await Write(program, $"/api/saddles/{lent}/trials", new { horseId = other, until = "2026-12-04" });
        var pad = await Write(program, $"/api/saddles/{lent}/pads", new { horseId = other, pad = "felt" });
        var file = await Picture(program, $"/api/saddles/{lent}");
        return (lent, work.GetGuid(), trial.GetProperty("made").GetGuid(), pad.GetProperty("made").GetGuid(), file);
    }

    /// <summary>A picture of one point on a horse or a saddle.</summary>
    private static async Task<Guid> Picture(HttpClient program, string of)
    {
        const string Dot = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
        using var request = new HttpRequestMessage(HttpMethod.Post, $"{of}/files?kind=photograph")
        {
            Content = new ByteArrayContent(Convert.FromBase64String(Dot)),
        };
        request.Content.Headers.ContentType = new("application/octet-stream");
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        var answer = await program.SendAsync(request);
        var said = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, said);
        return JsonDocument.Parse(said).RootElement.GetProperty("made").GetGuid();
    }

    /// <summary>A guided study of repeatability that was just begun.</summary>
    private static async Task<Guid> Study(HttpClient program) => (
            await Write(
                program,
                "/api/practice/studies/guided",
                new
                {
                    method = "flexible-curve",
                    horses = 3,
                    times = 2,
                }
            )
        ).GetProperty("id").GetGuid();

    /// <summary>The horse shared with whoever looks at the pages, and with somebody who has not accepted yet.</summary>
    private async Task<(Guid Grant, string Welcome)> Grant(HttpClient program, Guid horse)
    {
        var accounts = practice.Services.GetRequiredService<AccountDocuments>();
        var looker = (await accounts.ByEmail("ADMINISTRATOR@MEMBERS.INVALID", CancellationToken.None))!;
        var held = await GrantTo(program, horse, looker.Email);
        await accounts.Change(looker.Id, a => a.Shared = a.Shared.Add(new HeldGrant(Tenant, horse, held)), CancellationToken.None);
        var open = await GrantTo(program, horse, "another.vet@clinic.invalid");
        var invitation = await practice
            .Services.GetRequiredService<Invitations>()
            .Load(DeterministicId.From("invitation", open.ToString()), CancellationToken.None);
        return (held, PathOf(practice.Services.GetRequiredService<AccountLinks>().Accept(invitation!)));
    }

    private async Task<Guid> GrantTo(HttpClient program, Guid horse, string email)
    {
        var person = DeterministicId.From("shown to", email);
        await practice
            .Services.GetRequiredService<PracticeQueries>()
            .Save(Tenant, [new Person(person, "A Vet", email, null, null, PersonRole.Veterinarian)], CancellationToken.None);
        return (await Write(program, $"/api/horses/{horse}/sharing/grants", new { personId = person, role = "veterinarian" }))
            .GetProperty("id")
            .GetGuid();
    }

    public static async Task<Guid> AHorse(HttpClient program, Func<CaseloadRow, bool> which) =>
        (await program.GetFromJsonAsync<CaseloadPage>("/api/caseload?limit=40"))!.Items.First(which).HorseId;

    /// <summary>The last visit at which a tracing was taken.</summary>
    public static async Task<Guid> Visit(HttpClient program, Guid horse) =>
        (await program.GetFromJsonAsync<JsonElement>($"/api/horses/{horse}/visits"))
            .EnumerateArray()
            .Where(v => v.GetProperty("entries").EnumerateArray().Any(e => e.GetProperty("kind").GetString() == "cross-section"))
            .OrderBy(v => v.GetProperty("takenAt").GetDateTimeOffset())
            .Last()
            .GetProperty("id")
            .GetGuid();

    /// <summary>A link as the practice sends it, without its host.</summary>
    public static async Task<string> Link(HttpClient program, Guid horse, string role) =>
        PathOf((await Write(program, $"/api/horses/{horse}/sharing/links", new { role })).GetProperty("url").GetString()!);

    public static string PathOf(string url) => new Uri(url).AbsolutePath;

    public static async Task<JsonElement> Write(HttpClient program, string path, object body)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = JsonContent.Create(body) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        var answer = await program.SendAsync(request);
        var said = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, $"{path}: {answer.StatusCode} {said}");
        return JsonDocument.Parse(said).RootElement;
    }
}
