using BackHistory.History;
using BackHistory.Store.Events;
using Microsoft.Extensions.Primitives;

namespace BackHistory.Service.Web;

/// <summary>
/// Texts that cannot be kept or that nobody means to enter, refused once for every address and every form of a page; JSON is looked at
/// where it is read (<see cref="Bodies"/>), files by those who know what they should hold.
/// </summary>
public static class Texts
{
    /// <summary>Stands before whatever reads a form for the first time, and after whatever says how large it may be.</summary>
    public static void UseTexts(this WebApplication app) =>
        app.Use(
            async (http, next) =>
            {
                if ((OfAddress(http.Request) ?? await OfForm(http)) is { } problem)
                    await ErrorHandling.Refuse(http, problem);
                else
                    await next(http);
            }
        );

    private static Refused? OfAddress(HttpRequest request) =>
        HoldsNul(request.QueryString.Value) ? StoredText.Nul
        : request.QueryString.HasValue ? request.Query.Select(Problem).FirstOrDefault(p => p is not null)
        : null;

    private static bool HoldsNul(string? text) =>
        text is not null && (text.Contains("%00", StringComparison.Ordinal) || text.Contains('\0', StringComparison.Ordinal));

    private static async Task<Refused?> OfForm(HttpContext http)
    {
        // The interface reads its bodies as bytes, whatever a program calls them.
        if (!http.Request.HasFormContentType || http.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
            return null;
        try
        {
            var form = await http.Request.ReadFormAsync(http.RequestAborted);
            return form.Select(Problem).FirstOrDefault(p => p is not null);
        }
        catch (InvalidDataException e) when (e.InnerException is InvalidOperationException)
        {
            // The framework's own decoder stops at an escaped NUL, without a word for whoever typed it.
            return StoredText.Nul;
        }
    }

    private static Refused? Problem(KeyValuePair<string, StringValues> field) =>
        field.Value.Prepend(field.Key).Select(Problem).FirstOrDefault(p => p is not null);

    private static Refused? Problem(string? text) =>
        text is null ? null
        : text.Contains('\0', StringComparison.Ordinal) ? StoredText.Nul
        : EnteredText.Problem(text);
}
