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

    [Theory]
    [InlineData("a@xn--.org")]
    [InlineData("a@xn--abc.org")]
    [InlineData("a@xn--99999999.org")]
    [InlineData("a@ab--cd.org")]
    [InlineData("a@x_y.org")]
    [InlineData("a@-x.org")]
    [InlineData("a@x-.org")]
    [InlineData("a@x..org")]
    [InlineData("a@.org")]
    [InlineData("a@localhost")]
    [InlineData("a@1.2.3.4")]
    [InlineData("a@example.123")]
    [InlineData("\u0663@x.org")]
    [InlineData("j\u00F6rg@x.org")]
    [InlineData("a@x\u0000y.org")]
    [InlineData("a@\u3164.org")]
    [InlineData("a@\u200D.org")]
    [InlineData("a@aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa.org")]
    public void A_domain_that_no_letter_reaches_is_none(string text) => Assert.False(EmailAddress.TryParse(text, out _));

    [Theory]
    [InlineData("a@b\u00FCcher.example")]
    [InlineData("a@xn--bcher-kva.example")]
    [InlineData("a@\u4F8B\u3048.example")]
    [InlineData("a+b@sub.example-stable.org")]
    [InlineData("a@aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa.org")]
    public void A_domain_of_any_script_is_one(string text) => Assert.True(EmailAddress.TryParse(text, out _));

    [Fact]
    public void An_address_is_as_long_as_its_domain_is_once_encoded()
    {
        var label = new string('\u00FC', 40);
        var domain = $"{string.Join('.', Enumerable.Repeat(label, 4))}.example";
        Assert.True($"a@{domain}".Length < 254);
        Assert.False(EmailAddress.TryParse($"{new string('a', 60)}@{domain}", out _));
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
