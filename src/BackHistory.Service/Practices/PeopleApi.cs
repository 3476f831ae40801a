using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Practices;

public sealed record PersonRequest(
    string Name,
    string? Email,
    string? Phone,
    string? Address,
    PersonRole Role,
    string? Language,
    string? TimeZone
);

public sealed record YardRequest(string Name, string? Town);

public sealed record Made(Guid Id);

/// <summary>People and yards: documents, not events, because they must be erasable.</summary>
public static class PeopleApi
{
    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    private const int LongestPhone = 40;

    private static readonly Refused Erased = new(
        "person-erased",
        "This person was erased. Nothing was saved; to enter them anew, send the request with a new key.",
        RefusalKind.Conflict
    );

    public static void MapPeople(this IEndpointRouteBuilder api)
    {
        var people = api.MapGroup("/people").WithTags("People");
        people.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("People by name, a page at a time");
        people
            .MapPost("/", Add)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("Add a person")
            .Accepts<PersonRequest>("application/json");
        people
            .MapPut("/{personId:guid}", Change)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("Change a person's details; what is not sent stays")
            .Accepts<PersonRequest>("application/json");
        var yards = api.MapGroup("/yards").WithTags("People");
        yards.MapGet("/", Yards).RequireAuthorization(Policies.See).WithSummary("Yards by name");
        yards.MapPost("/", AddYard).RequireAuthorization(Policies.Enter).WithSummary("Add a yard").Accepts<YardRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, PracticeQueries practices, string? after, int? limit, CancellationToken ct)
    {
        var (cursor, bad) = Paging.Read<(string Name, Guid Id)>(after);
        if (bad is not null)
            return Problems.Of(bad);
        var size = Paging.Size(limit);
        var rows = await practices.PeopleByName(SignedIn.From(http.User).Practice, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, p => (p.Name, p.Id)));
    }

    private static Task<IResult> Add(HttpContext http, PracticeQueries practices, CancellationToken ct) => Save(http, practices, null, ct);

    private static Task<IResult> Change(HttpContext http, PracticeQueries practices, Guid personId, CancellationToken ct) =>
        Save(http, practices, personId, ct);

    private static async Task<IResult> Save(HttpContext http, PracticeQueries practices, Guid? personId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<PersonRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        if (ReadableName.IsMissing(r!.Name) || r.Name.Length > 120)
            return Problems.Of(new Refused("no-name", "A person needs a name of up to 120 letters.", Place: "name"));
        if (r.Email is { Length: > 0 } mail && !EmailAddress.TryParse(mail, out _))
            return Problems.Of(
                new Refused("bad-email", "This is no e-mail address: write it without a name, as in anna@example.org.", Place: "email")
            );
        if (r.Phone?.Length > LongestPhone)
            return Problems.Of(new Refused("long-phone", $"A telephone number has up to {LongestPhone} letters.", Place: "phone"));
        if (r.Language is not null && !Languages.Shipped.Knows(r.Language))
            return Problems.Of(new Refused("unknown-language", $"People are written to in {Languages.Shipped.Named}.", Place: "language"));
        if (r.TimeZone is { Length: > 0 } zone && !TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _))
            return Problems.Of(new Refused("unknown-time-zone", $"'{zone}' is no IANA time zone.", Place: "timeZone"));
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return Problems.Of(RequestRefusals.NoKey);
        var practice = SignedIn.From(http.User).Practice;
        if (personId is { } known)
        {
            var sent = Bodies.Names(body);
            var changed = await practices.Change(practice, known, p => Changed(p, r, sent), ct);
            return changed is null ? Problems.Of(NoSuchPerson) : Results.Ok(new Made(known));
        }

        var id = NewIds.Of(http, "person");
        // The same request once more, after they were erased, does not bring them back.
        if ((await practices.Load(practice, ct))?.Erased.Contains(id) == true)
            return Problems.Of(Erased);
        var person = new Person(id, r.Name.Trim(), r.Email?.Trim(), r.Phone, r.Address, r.Role, r.Language ?? "en", r.TimeZone);
        await practices.Add(practice, person, ct);
        return Results.Created($"/api/people/{id}", new Made(id));
    }

    /// <summary>What the request holds, and nothing else: which letters somebody stopped, for one, is theirs to say and stands in no
    /// form.</summary>
    private static Person Changed(Person p, PersonRequest r, IReadOnlySet<string> sent) =>
        p with
        {
            Name = r.Name.Trim(),
            Email = sent.Contains("email") ? r.Email?.Trim() : p.Email,
            Phone = sent.Contains("phone") ? r.Phone : p.Phone,
            Address = sent.Contains("address") ? r.Address : p.Address,
            Role = sent.Contains("role") ? r.Role : p.Role,
            Language = sent.Contains("language") ? r.Language ?? "en" : p.Language,
            TimeZone = sent.Contains("timeZone") ? r.TimeZone : p.TimeZone,
        };

    private static async Task<IResult> Yards(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        return Results.Ok(await practices.Yards(SignedIn.From(http.User).Practice, ct));
    }

    private static async Task<IResult> AddYard(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        var (r, bad) = Bodies.As<YardRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.Of(bad);
        if (ReadableName.IsMissing(r!.Name) || r.Name.Length > 120)
            return Problems.Of(new Refused("no-name", "A yard needs a name of up to 120 letters.", Place: "name"));
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return Problems.Of(RequestRefusals.NoKey);
        var id = NewIds.Of(http, "yard");
        await practices.Add(SignedIn.From(http.User).Practice, new Yard(id, r.Name.Trim(), r.Town), ct);
        return Results.Created($"/api/yards/{id}", new Made(id));
    }
}
