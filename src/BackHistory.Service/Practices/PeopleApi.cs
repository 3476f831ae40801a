using BackHistory.Application.People;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Practices;

/// <summary>People and yards: documents, not events, because they must be erasable.</summary>
public static class PeopleApi
{
    public static void MapPeople(this IEndpointRouteBuilder api)
    {
        var people = api.MapGroup("/people").WithTags("People");
        people.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("People by name, a page at a time");
        people.MapPost("/", Add).Needs<AddPerson>().WithSummary("Add a person").Accepts<PersonRequest>("application/json");
        people
            .MapPut("/{personId:guid}", Change)
            .Needs<ChangePerson>()
            .WithSummary("Change a person's details; what is not sent stays")
            .Accepts<PersonRequest>("application/json");
        var yards = api.MapGroup("/yards").WithTags("People");
        yards.MapGet("/", Yards).RequireAuthorization(Policies.See).WithSummary("Yards by name");
        yards.MapPost("/", AddYard).Needs<AddYard>().WithSummary("Add a yard").Accepts<YardRequest>("application/json");
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

    private static Task<IResult> Add(HttpContext http, CommandRunner runner, AddPerson add, CancellationToken ct)
    {
        var id = NewIds.Of(http, "person");
        return runner.Save<PersonRequest>(
            http,
            (r, by) => add.Do(new AddPerson.Input(id, Details(r)), by, ct),
            () => Results.Created($"/api/people/{id}", new Made(id))
        );
    }

    private static async Task<IResult> Change(HttpContext http, ChangePerson change, Guid personId, TimeProvider time, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<PersonRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var (by, refused) = Callers.ByKey(http, time);
        if (refused is not null)
            return Problems.Of(refused);
        var input = new ChangePerson.Input(personId, Details(r!), Given(Bodies.Names(body)));
        return await change.Do(input, by!, ct) is { } no ? Problems.Of(no) : Results.Ok(new Made(personId));
    }

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
        var id = NewIds.Of(http, "yard");
        return runner.Save<YardRequest>(
            http,
            (r, by) => add.Do(new AddYard.Input(id, new YardDetails(r.Name, r.Town)), by, ct),
            () => Results.Created($"/api/yards/{id}", new Made(id))
        );
    }
}
