using System.Net;
using BackHistory.History.Files;

namespace BackHistory.Service.Tests.Access;

/// <summary>Pictures are never unpacked here; what one would be once somebody unpacks it is read from its header, and refused where it is
/// a bomb.</summary>
public sealed class PictureTests(RunningService service)
{
    public static TheoryData<string, int, int, string?> Sizes =>
        new()
        {
            { "png", 4000, 3000, null },
            { "png", 10_000, 10_000, null },
            { "png", 10_001, 10_000, "picture-too-large" },
            { "png", 30_001, 1, "picture-too-large" },
            { "png", int.MaxValue, int.MaxValue, "picture-too-large" },
            { "png", -1, -1, "picture-too-large" },
            { "png", 0, 100, "damaged-picture" },
            { "jpeg", 8000, 6000, null },
            { "jpeg", 65_535, 65_535, "picture-too-large" },
            { "jpeg", 20_000, 20_000, "picture-too-large" },
            { "jpeg", 100, 0, "damaged-picture" },
            { "VP8X", 4000, 3000, null },
            { "VP8X", 1 << 24, 1 << 24, "picture-too-large" },
            { "VP8L", 4000, 3000, null },
            { "VP8L", 16_384, 16_384, "picture-too-large" },
            { "VP8 ", 4000, 3000, null },
            { "VP8 ", 16_383, 16_383, "picture-too-large" },
        };

    [Theory]
    [MemberData(nameof(Sizes))]
    public void A_picture_that_would_unpack_to_gigabytes_is_refused_by_its_header(string kind, int width, int height, string? code)
    {
        var bytes = kind switch
        {
            "png" => Picture.Png(width, height),
            "jpeg" => Picture.Jpeg(width, height),
            _ => Picture.WebP(kind, width, height),
        };
        var before = GC.GetAllocatedBytesForCurrentThread();
        var (file, refused) = FileBytes.From(bytes);
        Assert.Equal(code, refused?.Code);
        Assert.Equal(code is null, file is not null);
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 1 << 20, "reading a header is no work");
    }

    [Theory]
    [InlineData("ends before its size", new byte[] { 0xFF, 0xD8, 0xFF, 0xE0, 0, 4, 0, 0 })]
    [InlineData(
        "a piece that says it is shorter than its own length",
        new byte[] { 0xFF, 0xD8, 0xFF, 0xE0, 0, 0, 0xFF, 0xC0, 0, 11, 8, 0, 9, 0, 9, 1, 1, 1, 1 }
    )]
    [InlineData(
        "the picture begins before its size was said",
        new byte[] { 0xFF, 0xD8, 0xFF, 0xDA, 0, 2, 0xFF, 0xC0, 0, 11, 8, 0, 9, 0, 9, 1, 1, 1, 1 }
    )]
    [InlineData("no pieces at all", new byte[] { 0xFF, 0xD8, 0xFF, 1, 2, 3 })]
    public void A_photograph_that_does_not_say_how_large_it_is_is_refused(string why, byte[] bytes)
    {
        Assert.NotEmpty(why);
        Assert.Equal("damaged-picture", FileBytes.From(bytes).Refused?.Code);
    }

    [Fact]
    public void A_large_picture_behind_a_small_one_is_refused_all_the_same()
    {
        // The first frame is small, the second large: which one a program shows is its own affair.
        byte[] small = [0xFF, 0xC0, 0, 11, 8, 0, 16, 0, 16, 1, 1, 0x11, 0];
        Assert.Equal(
            "picture-too-large",
            FileBytes.From((byte[])[0xFF, 0xD8, .. small, .. Picture.Jpeg(60_000, 60_000)[2..]]).Refused?.Code
        );
    }

    [Fact]
    public async Task The_service_says_in_words_why_a_picture_is_not_taken()
    {
        using var client = service.Client();
        var horse = await client.Horse("Pictured Horse");
        foreach (
            var (bytes, words) in new[]
            {
                (Picture.Png(50_000, 50_000), "50000 × 50000 pixels"),
                (Picture.Png(0, 0), "does not say how large it is"),
            }
        )
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, $"/api/horses/{horse}/files?kind=photograph")
            {
                Content = new ByteArrayContent(bytes),
            };
            request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
            request.Headers.TryAddWithoutValidation("If-Match", "*");
            var answer = await client.SendAsync(request);
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            var detail = (await answer.Json()).GetProperty("detail").GetString();
            Assert.Contains(words, detail, StringComparison.Ordinal);
            Assert.Contains("Nothing was saved", detail, StringComparison.Ordinal);
        }
    }
}
