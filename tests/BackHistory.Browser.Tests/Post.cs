using Microsoft.Playwright;
using MimeKit;

namespace BackHistory.Browser.Tests;

/// <summary>The letters that left, as files.</summary>
public sealed class Post(string folder)
{
    /// <summary>All letters to this address, oldest first; without one, all.</summary>
    public IReadOnlyList<MimeMessage> Letters(string? to = null) =>
        !Directory.Exists(folder)
            ? []
            :
            [
                .. Directory
                    .EnumerateFiles(folder, "*.eml")
                    .Select(Load)
                    .OfType<MimeMessage>()
                    .Where(m => to is null || m.To.Mailboxes.Any(b => b.Address == to))
                    .OrderBy(m => m.Date),
            ];

    private static MimeMessage? Load(string file)
    {
        try
        {
            return MimeMessage.Load(file);
        }
        catch (Exception e) when (e is FormatException or IOException)
        {
            // Being written at this moment.
            return null;
        }
    }

    /// <summary>Waits for a letter.</summary>
    public async Task<MimeMessage> Wait(string to, Func<MimeMessage, bool> which)
    {
        MimeMessage? found = null;
        await RunningPractice.Until(() => Task.FromResult((found = Letters(to).LastOrDefault(which)) is not null), $"a letter to {to}");
        return found!;
    }

    /// <summary>Shows a letter as a mail program does: its pictures are its own parts.</summary>
    public static async Task Show(IPage page, MimeMessage letter)
    {
        var html = letter.HtmlBody!;
        foreach (var part in letter.BodyParts.OfType<MimePart>().Where(p => p.ContentId is not null))
        {
            using var bytes = new MemoryStream();
            await part.Content!.DecodeToAsync(bytes);
            html = html.Replace(
                $"cid:{part.ContentId}",
                $"data:{part.ContentType.MimeType};base64,{Convert.ToBase64String(bytes.ToArray())}",
                StringComparison.Ordinal
            );
        }

        await page.GotoAsync("about:blank");
        await page.SetContentAsync(html);
    }
}
