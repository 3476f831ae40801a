using BackHistory.Application.People;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Practices;

/// <summary>People and yards: documents, not events, because they must be erasable.</summary>
public static class PeopleApi
{
    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    private static readonly Refused NoSuchYard = new("no-such-yard", "There is no such yard in this practice.", RefusalKind.NotFound);

    public static void MapPeople(this IEndpointRouteBuilder api)
    {
        var people = api.MapGroup("/people").WithTags("People");
        people.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("People by name, a page at a time");
        people.MapPost("/", Add).Needs<AddPerson>().WithSummary("Add a person").Accepts<PersonRequest>("application/json");
        people.MapGet("/{personId:guid}", Person).RequireAuthorization(Policies.See).WithSummary("A person, with their version as ETag");
        people
            .MapPut("/{personId:guid}", Change)
            .Needs<ChangePerson>()
            .WithSummary("Change a person's details; what is not sent stays")
            .Accepts<PersonRequest>("application/json");
        var yards = api.MapGroup("/yards").WithTags("People");
        yards.MapGet("/", Yards).RequireAuthorization(Policies.See).WithSummary("Yards by name");
        yards.MapPost("/", AddYard).Needs<AddYard>().WithSummary("Add a yard").Accepts<YardRequest>("application/json");
        yards.MapGet("/{yardId:guid}", Yard).RequireAuthorization(Policies.See).WithSummary("A yard, with its version as ETag");
        yards
            .MapPut("/{yardId:guid}", ChangeYard)
            .Needs<ChangeYard>()
            .WithSummary("Change a yard's details; what is not sent stays")
            .Accepts<YardRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, PracticeQueries practices, string? after, int? limit, CancellationToken ct)
    {
        var (cursor, bad) = Paging.Read<(string Name, Guid Id)>(after);
        if (bad is not null)
            return Problems.From(bad);
        var size = Paging.Size(limit);
        var rows = await practices.PeopleByName(SignedIn.From(http.User).Practice, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, p => (p.Name, p.Id)));
    }

    private static Task<IResult> Add(HttpContext http, CommandRunner runner, AddPerson add, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "person");
        return runner.Act<PersonRequest>(
            http,
            (r, by) => add.Do(new AddPerson.Input(id, Details(r)), by, ct),
            _ => Results.Created($"/api/people/{id}", new Made(id)),
            creates: true
        );
    }

    private static async Task<IResult> Person(HttpContext http, PracticeQueries practices, Guid personId, CancellationToken ct) =>
        Versioned(http, await practices.Person(SignedIn.From(http.User).Practice, personId, ct), NoSuchPerson);

    private static async Task<IResult> Yard(HttpContext http, PracticeQueries practices, Guid yardId, CancellationToken ct) =>
        Versioned(http, await practices.Yard(SignedIn.From(http.User).Practice, yardId, ct), NoSuchYard);

    private static IResult Versioned<T>(HttpContext http, IVersionedDocument<T>? found, Refused none)
    {
        if (found is null)
            return Problems.From(none);
        http.Response.Headers.ETag = $"\"{found.Version}\"";
        return Results.Ok<object>(found);
    }

    private static async Task<IResult> Change(
        HttpContext http,
        CommandRunner runner,
        ChangePerson change,
        Guid personId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<PersonRequest>(body);
        if (bad is not null)
            return Problems.From(bad);
        var input = new ChangePerson.Input(personId, Details(r!), Given(Bodies.Names(body)));
        return await runner.Act(http, body, by => change.Do(input, by, ct), _ => Results.Ok(new Made(personId)));
    }

    private static async Task<IResult> ChangeYard(
        HttpContext http,
        CommandRunner runner,
        ChangeYard change,
        Guid yardId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<YardRequest>(body);
        if (bad is not null)
            return Problems.From(bad);
        var sent = Bodies.Names(body);
        var input = new ChangeYard.Input(
            yardId,
            DetailsOf(r!),
            sent.Contains("town"),
            Address: sent.Contains("address"),
            Place: sent.Contains("latitude") || sent.Contains("longitude")
        );
        return await runner.Act(http, body, by => change.Do(input, by, ct), _ => Results.Ok(new Made(yardId)));
    }

    private static YardDetails DetailsOf(YardRequest r) => new(r.Name, r.Town, r.Address, r.Latitude, r.Longitude);

    private static PersonDetails Details(PersonRequest r) => new(r.Name, r.Email, r.Phone, r.Address, r.Role, r.Language, r.TimeZone);

    /// <summary>What the request holds: what was not sent stays.</summary>
    private static PersonDetail Given(IReadOnlySet<string> sent) =>
        Enum.GetValues<PersonDetail>().Where(d => sent.Contains(d.ToString())).Aggregate(PersonDetail.None, (all, d) => all | d);

    private static async Task<IResult> Yards(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        return Results.Ok(await practices.Yards(SignedIn.From(http.User).Practice, ct));
    }

    private static Task<IResult> AddYard(HttpContext http, CommandRunner runner, AddYard add, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "yard");
        return runner.Act<YardRequest>(
            http,
            (r, by) => add.Do(new AddYard.Input(id, DetailsOf(r)), by, ct),
            _ => Results.Created($"/api/yards/{id}", new Made(id)),
            creates: true
        );
    }
}
