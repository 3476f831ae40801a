using BackHistory.Application.Letters;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters;
using BackHistory.Reports.Letters.Content;
using BackHistory.Service.Access;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Reminders;

/// <summary>A letter shown beside its words, as its reader would see it.</summary>
public static class LetterForms
{
    /// <summary>Letters style themselves, for mail programs: the frame in which one is shown may do that, show its pictures, and nothing
    /// else.</summary>
    private const string Framed =
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'; "
        + "sandbox";

    internal static IReadOnlyList<(string Key, string Name)> InLanguages { get; } =
    [.. Languages.Shipped.All.Select(l => (l.Tag, l.EnglishName))];

    public static void MapLetterForms(this WebApplication app)
    {
        app.MapPost("/practice/letters/{kind}/{language}/look", Look).RequireAuthorization(Policies.Manage).ExcludeFromDescription();
        app.MapGet("/practice/letters/{kind}/{language}/look", InForce).RequireAuthorization(Policies.Manage).ExcludeFromDescription();
        app.MapGet("/reminders/first-letters/{letterId:guid}", LookAtOwed).RequireAuthorization(Policies.Manage).ExcludeFromDescription();
    }

    internal static string Key(LetterKind kind) =>
        string.Concat(
            kind.ToString().Select((c, i) => char.IsUpper(c) ? $"{(i == 0 ? "" : "-")}{char.ToLowerInvariant(c)}" : c.ToString())
        );

    private static async Task<IResult> Look(
        HttpContext http,
        LetterPreview preview,
        string kind,
        string language,
        [FromForm(Name = "Form.Source")] string? source,
        [FromForm(Name = "Form.Subject")] string? subject,
        [FromForm(Name = "Form.Words")] string? typed,
        [FromForm] string? horse,
        CancellationToken ct
    )
    {
        if (LetterTemplatesApi.Read(kind, language) is not { } known)
            return Results.NotFound();
        var who = SignedIn.From(http.User);
        var (words, bad) = Source(known, source, subject, typed, language);
        if (bad is not null)
            return Shown(http, null, bad);
        var (letter, refused) = await preview.Compose(
            who.Practice,
            known,
            language,
            words,
            Guid.TryParse(horse, out var id) ? id : null,
            who.PersonId,
            ct
        );
        return Shown(http, letter, refused);
    }

    /// <summary>By the words in force, before anything was pressed.</summary>
    private static async Task<IResult> InForce(HttpContext http, LetterPreview preview, string kind, string language, CancellationToken ct)
    {
        if (LetterTemplatesApi.Read(kind, language) is not { } known)
            return Results.NotFound();
        var who = SignedIn.From(http.User);
        var (letter, refused) = await preview.Compose(who.Practice, known, language, null, null, who.PersonId, ct);
        return Shown(http, letter, refused);
    }

    /// <summary>The template that was typed, in words or in its own language; null where nothing was.</summary>
    internal static (string? Source, Refused? Refused) Source(
        LetterKind kind,
        string? source,
        string? subject,
        string? words,
        string language
    )
    {
        if (!string.IsNullOrWhiteSpace(source))
            return (source.ReplaceLineEndings("\n"), null);
        if (string.IsNullOrWhiteSpace(words))
            return (null, null);
        try
        {
            var template = new LetterText(subject ?? "", words).Template(ReportLanguage.For(language));
            template.Check(kind);
            return (template.Source, null);
        }
        catch (LetterTemplateException e)
        {
            return (null, SetLetterTemplate.Bad(e));
        }
    }

    private static async Task<IResult> LookAtOwed(HttpContext http, LetterPreview preview, Guid letterId, CancellationToken ct)
    {
        var (letter, refused) = await preview.OfOwed(SignedIn.From(http.User).Practice, letterId, ct);
        return refused?.Kind == RefusalKind.NotFound ? Results.NotFound() : Shown(http, letter, refused);
    }

    private static IResult Shown(HttpContext http, ComposedLetter? letter, Refused? refused)
    {
        http.Response.Headers.ContentSecurityPolicy = Framed;
        http.Response.Headers.XFrameOptions = "SAMEORIGIN";
        if (refused is not null)
        {
            var place = refused.Place is null ? "" : $" ({refused.Place})";
            return Page(
                $"<!DOCTYPE html><meta charset=\"utf-8\"><title>It cannot be written</title><p><b>It cannot be written.</b> "
                    + $"{System.Net.WebUtility.HtmlEncode(refused.Message + place)}</p>"
            );
        }

        return Page(LetterTemplatesApi.WithPictures(letter!));
    }

    private static IResult Page(string html) => Results.Text(html, "text/html; charset=utf-8");
}
