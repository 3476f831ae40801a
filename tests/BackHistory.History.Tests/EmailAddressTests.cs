using BackHistory.History.Practices;

namespace BackHistory.History.Tests;

/// <summary>An address is valid or is not made.</summary>
public sealed class EmailAddressTests
{
    [Theory]
    [InlineData("anna@example.org")]
    [InlineData("  anna@example.org ")]
    [InlineData("anna.o'neil+horses@sub.example.co.uk")]
    [InlineData("anna@münchen.example")]
    public void A_plain_address_is_one(string text) => Assert.True(EmailAddress.TryParse(text, out _));

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("anna")]
    [InlineData("Anna <anna@example.org>")]
    [InlineData("anna@example.org, ben@example.org")]
    [InlineData("anna@example.org\r\nBcc: ben@example.org")]
    [InlineData("\"anna b\"@example.org")]
    [InlineData("anna@[127.0.0.1]")]
    [InlineData("anna..b@example.org")]
    [InlineData("@example.org")]
    [InlineData("anna@")]
    [InlineData("anna@example..org")]
    public void A_name_around_it_a_list_and_whatever_no_letter_can_be_sent_to_is_none(string? text) =>
        Assert.False(EmailAddress.TryParse(text, out _));
}
