using BackHistory.Application.Letters;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Reminders;

/// <summary>The words of the practice's letters: see, try on a real horse, change, return to the shipped ones.</summary>
public static class LetterTemplatesApi
{
    private static IReadOnlyList<string> Known => Languages.Shipped.Tags;

    private static readonly Refused Unknown = new(
        "no-such-letter-kind",
        $"Letters are: {string.Join(", ", Enum.GetNames<LetterKind>())}; languages: {string.Join(", ", Languages.Shipped.Tags)}.",
        RefusalKind.NotFound
    );

    public static void MapLetterTemplates(this IEndpointRouteBuilder api)
    {
        var templates = api.MapGroup("/letter-templates").WithTags("Letters");
        templates.MapGet("/", All).RequireAuthorization(Policies.See).WithSummary("The words of every kind of letter in every language");
        templates.MapGet("/{kind}/{language}", One).RequireAuthorization(Policies.See).WithSummary("The words of one letter");
        templates
            .MapPut("/{kind}/{language}", Change)
            .Needs<SetLetterTemplate>()
            .WithSummary("Change them, or return to the shipped ones with null")
            .Accepts<LetterTemplateRequest>("application/json");
        templates
            .MapPost("/{kind}/{language}/preview", Preview)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("The letter as it would be written about a real horse")
            .Accepts<LetterPreviewRequest>("application/json");
    }

    private static async Task<IResult> All(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Results.Ok(Enum.GetValues<LetterKind>().SelectMany(k => Known.Select(l => Answer(practice, k, l))));
    }

    private static async Task<IResult> One(HttpContext http, PracticeQueries practices, string kind, string language, CancellationToken ct)
    {
        if (Read(kind, language) is not { } known)
            return Problems.From(Unknown);
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Results.Ok(Answer(practice, known, language));
    }

    private static async Task<IResult> Change(
        HttpContext http,
        CommandRunner runner,
        SetLetterTemplate set,
        string kind,
        string language,
        CancellationToken ct
    ) =>
        Read(kind, language) is { } known
            ? await runner.Act<LetterTemplateRequest>(
                http,
                (r, by) => set.Do(new SetLetterTemplate.Input(known, language, r.Source), by, ct),
                outcome => Results.Ok(new Practices.Made(outcome.StreamId))
            )
            : Problems.From(Unknown);

    private static async Task<IResult> Preview(HttpContext http, LetterPreview preview, string kind, string language, CancellationToken ct)
    {
        if (Read(kind, language) is not { } known)
            return Problems.From(Unknown);
        var (r, bad) = Bodies.As<LetterPreviewRequest>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return Problems.From(bad);
        var who = SignedIn.From(http.User);
        var (letter, refused) = await preview.Compose(who.Practice, known, language, r!.Source, r.HorseId, who.PersonId, ct);
        if (refused is not null)
            return Problems.From(refused);
        return Results.Ok(new LetterPreviewAnswer(letter!.Subject, WithPictures(letter), letter.Text));
    }

    /// <summary>A browser does not know content ids: the pictures stand in the page itself.</summary>
    public static string WithPictures(ComposedLetter letter) =>
        letter.Images.Aggregate(
            letter.Html,
            (html, image) =>
                html.Replace(
                    $"cid:{image.ContentId}",
                    $"data:{image.MediaType};base64,{Convert.ToBase64String(image.Png)}",
                    StringComparison.Ordinal
                )
        );

    internal static LetterKind? Read(string kind, string language) =>
        Languages.Shipped.Knows(language)
        && Enum.TryParse<LetterKind>(kind.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var known)
        && Enum.IsDefined(known)
            ? known
            : null;

    internal static LetterTemplateAnswer Answer(History.Practices.Practice practice, LetterKind kind, string language)
    {
        var shipped = LetterTemplate.Shipped(kind, ReportLanguage.For(language)).Source;
        var own = practice.Templates.GetValueOrDefault(LetterTemplateChanged.KeyOf(kind, language));
        return new LetterTemplateAnswer(kind, language, own is not null, own?.Version ?? 0, own?.Source ?? shipped, shipped);
    }
}
