using BackHistory.Store.Events;

namespace BackHistory.Service.Web;

/// <summary>
/// Texts that cannot be kept, refused once for every address and every form of a page; JSON is looked at where it is read
/// (<see cref="Bodies"/>), files by those who know what they should hold.
/// </summary>
public static class Texts
{
    /// <summary>Stands before whatever reads a form for the first time, and after whatever says how large it may be.</summary>
    public static void UseTexts(this WebApplication app) =>
        app.Use(
            async (http, next) =>
            {
                if (HoldsNul(http.Request.QueryString.Value) || await FormHoldsNul(http))
                    await ErrorHandling.Refuse(http, StoredText.Nul);
                else
                    await next(http);
            }
        );

    private static bool HoldsNul(string? text) =>
        text is not null && (text.Contains("%00", StringComparison.Ordinal) || text.Contains('\0', StringComparison.Ordinal));

    private static async Task<bool> FormHoldsNul(HttpContext http)
    {
        // The interface reads its bodies as bytes, whatever a program calls them.
        if (!http.Request.HasFormContentType || http.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
            return false;
        try
        {
            var form = await http.Request.ReadFormAsync(http.RequestAborted);
            return form.Any(field => HoldsNul(field));
        }
        catch (InvalidDataException e) when (e.InnerException is InvalidOperationException)
        {
            // The framework's own decoder stops at an escaped NUL, without a word for whoever typed it.
            return true;
        }
    }

    private static bool HoldsNul(KeyValuePair<string, Microsoft.Extensions.Primitives.StringValues> field) =>
        field.Key.Contains('\0', StringComparison.Ordinal) || field.Value.Any(v => v?.Contains('\0', StringComparison.Ordinal) == true);
}
