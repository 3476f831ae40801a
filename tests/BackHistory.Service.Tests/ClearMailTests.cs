using BackHistory.Application.Letters;
using BackHistory.Service.Configuration;
using BackHistory.Service.Jobs;
using Microsoft.Extensions.Configuration;

namespace BackHistory.Service.Tests;

/// <summary>A mail server that offers no STARTTLS (RFC 3207) would get letters, and the password, in clear.</summary>
public sealed class ClearMailTests
{
    [Fact]
    public async Task Outside_loopback_nothing_is_said_in_clear_to_a_server_that_offers_no_encryption()
    {
        await using var server = new PlainMailServer();
        var refused = await Assert.ThrowsAsync<MailUnreachableException>(() => Open(server, server.Outside, inClear: false));
        Assert.Contains("STARTTLS", refused.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(await server.Heard(), line => line.StartsWith("AUTH", StringComparison.Ordinal));
        Assert.DoesNotContain(await server.Heard(), line => line.StartsWith("MAIL", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Whoever_sets_it_sends_in_clear_and_on_loopback_nobody_need_set_it()
    {
        await using var server = new PlainMailServer();
        await (await Open(server, server.Outside, inClear: true)).DisposeAsync();
        await (await Open(server, "127.0.0.1", inClear: false)).DisposeAsync();
        await (await Open(server, "localhost", inClear: false)).DisposeAsync();
    }

    [Theory]
    [InlineData(null, false)]
    [InlineData("", false)]
    [InlineData("no", false)]
    [InlineData("yes", true)]
    [InlineData("1", true)]
    public void It_is_a_setting_that_nobody_sets_by_accident(string? written, bool inClear)
    {
        var environment = new ConfigurationBuilder().AddInMemoryCollection([new("Host", "mail.invalid"), new("InClear", written)]).Build();
        Assert.Equal(inClear, MailSettings.Read(environment, ".").InClear);
    }

    [Fact]
    public async Task A_server_that_takes_nobody_s_mail_today_says_nothing_against_a_letter()
    {
        await using var server = new PlainMailServer { Greeting = "554 no mail is taken here today" };
        await Assert.ThrowsAsync<MailUnreachableException>(() => Open(server, "127.0.0.1", inClear: false));
    }

    private static Task<IMailTransport> Open(PlainMailServer server, string host, bool inClear)
    {
        var mail = new MailSettings(host, server.Port, null, null, "practice@backhistory.invalid", "backhistory.invalid", ".")
        {
            InClear = inClear,
        };
        IMailSender sender = new MailSender(new Settings("http://127.0.0.1:0", ".", null, mail, Demo: false, PublicUrl: null));
        return sender.Open(CancellationToken.None);
    }
}
