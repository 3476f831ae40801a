using Microsoft.Playwright;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>A file to be chosen.</summary>
internal static class AFile
{
    /// <summary>A picture of one point.</summary>
    public static readonly byte[] Dot = Convert.FromBase64String(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
    );

    public static FilePayload Picture =>
        new()
        {
            Name = "picture.png",
            MimeType = "image/png",
            Buffer = Dot,
        };
}
