using System.Net;
using BackHistory.History.Practices;

namespace BackHistory.Service.Tests;

/// <summary>An address is valid or is not made, and one that is made can be written to.</summary>
public sealed class EmailAddressTests(RunningService service)
{
    [Fact]
    public void To_every_address_that_is_taken_a_letter_can_be_written()
    {
        var random = new Random(20261129);
        const string Letters = "abcXYZ019.-_+'@<>\"(),;: \\[]éß\u00a0\t\r\n\u202e";
        var taken = 0;
        for (var i = 0; i < 200_000; i++)
        {
            var text =
                string.Concat(Enumerable.Range(0, random.Next(3, 14)).Select(_ => Letters[random.Next(Letters.Length)]))
                + (random.Next(2) == 0 ? "@example.org" : "");
            if (!EmailAddress.TryParse(text, out var address))
                continue;
            taken++;
            Assert.Equal(address.Value, new MimeKit.MailboxAddress("Anna", address.Value).Address);
        }

        Assert.True(taken > 1000, $"only {taken} were taken: nothing was tried");
    }

    [Fact]
    public async Task A_person_is_not_saved_with_a_name_around_the_address()
    {
        using var client = service.Client();
        var refused = await client.Write(
            HttpMethod.Post,
            "/api/people",
            new
            {
                name = "Anna",
                email = "Anna <anna@example.org>",
                role = "owner",
            }
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Contains("without a name", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }
}
