using System.Net;
using System.Text.RegularExpressions;
using BackHistory.Service.Access;

namespace BackHistory.Service.Tests;

/// <summary>What whoever runs the machine does and relies on: the way back for a lost telephone, who a proxy is believed, and that nobody
/// else on the machine reads the state folder.</summary>
public sealed class MachineTests(MachineFolder machine) : IClassFixture<MachineFolder>
{
    private const UnixFileMode OthersToo = (UnixFileMode)0b000_111_111;
    private const string Wrong = "not the password at all";

    [Fact]
    public async Task The_only_administrator_who_lost_telephone_and_codes_comes_back_by_a_command_on_the_machine()
    {
        using var before = From("198.51.100.1");
        await before.SignIn(MachineFolder.Email, MachineFolder.Password);
        await SetUpCodes(before);
        Assert.Equal(HttpStatusCode.OK, (await before.Get("/practice/members")).StatusCode);
        using var program = await Program(before);
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/api/horses")).StatusCode);
        // Without the telephone and the codes nobody gets further than this.
        using var lost = From("198.51.100.1");
        await lost.SignIn(MachineFolder.Email, MachineFolder.Password);
        Assert.Equal(HttpStatusCode.Unauthorized, (await lost.Get("/api/horses")).StatusCode);

        foreach (var call in new[] { new[] { "Another Practice", MachineFolder.Email }, [MachineFolder.Practice, "other@members.invalid"] })
        {
            var (no, nothing, why) = await machine.Run(["recover-account", .. call]);
            Assert.Equal((1, ""), (no, nothing));
            Assert.Contains("Nothing was changed.", why, StringComparison.Ordinal);
        }

        Assert.Equal(HttpStatusCode.OK, (await before.Get("/practice/members")).StatusCode);
        var (status, said, error) = await machine.Run(["recover-account", MachineFolder.Practice, MachineFolder.Email]);
        Assert.Equal((0, ""), (status, error));
        var path = MachineFolder.PathIn(said);
        Assert.Equal(HttpStatusCode.Unauthorized, (await before.Get("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await program.GetAsync("/api/horses")).StatusCode);
        Assert.Matches(@"[1-9]\d* sessions? and 1 key of programs ended", said);
        using var after = From("198.51.100.1");
        var old = await after.Send("/sign-in", "/sign-in", ("email", MachineFolder.Email), ("password", MachineFolder.Password));
        Assert.Equal("/sign-in?failed=1", old.Headers.Location!.ToString());

        await after.Send(path, path, ("password", "eight white stallions rest"));
        Assert.Contains("This link does not work any more.", await after.Page(path), StringComparison.Ordinal);
        await after.SignIn(MachineFolder.Email, "eight white stallions rest");
        // As for everybody, a password alone opens no practice.
        Assert.Equal(HttpStatusCode.Forbidden, (await after.Get("/api/horses")).StatusCode);
        await SetUpCodes(after);
        var audit = await after.Page("/practice/audit");
        Assert.Contains(
            "on the machine itself Ada Marsh was let in anew: password, codes, passkeys, sessions and keys ended",
            audit,
            StringComparison.Ordinal
        );
    }

    /// <summary>A program with a key of whoever is signed in here.</summary>
    private async Task<HttpClient> Program(Browser browser)
    {
        var made = await browser.Client.Write(
            HttpMethod.Post,
            "/api/me/keys",
            new
            {
                label = "Practice software",
                most = "manager",
                days = 30,
            }
        );
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var program = From("198.51.100.9").Client;
        program.DefaultRequestHeaders.Authorization = new("Bearer", (await made.Json()).GetProperty("key").GetString());
        return program;
    }

    [Fact]
    public async Task A_call_without_a_practice_or_an_address_says_how_and_changes_nothing()
    {
        foreach (var call in new[] { [], new[] { MachineFolder.Practice }, [MachineFolder.Practice, MachineFolder.Email, "more"] })
        {
            var (status, output, error) = await machine.Run(["recover-account", .. call]);
            Assert.Equal((2, ""), (status, output));
            Assert.StartsWith("usage: recover-account PRACTICE-NAME EMAIL", error, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Behind_a_proxy_of_the_settings_two_addresses_are_two_and_what_the_sender_wrote_before_counts_for_nothing()
    {
        var (first, second) = ("203.0.113.1", "203.0.113.2");
        Assert.Equal(MachineFolder.Guesses, await Tries(first, MachineFolder.Guesses + 2));
        Assert.Equal(3, await Tries(second, 3));
        // The proxy adds where the request came from; what stands before that is the sender's own word.
        Assert.Equal(0, await Tries($"198.51.100.77, {first}", 2));
        Assert.Equal(0, await Tries($"203.0.113.99, 10.0.0.1, {first}, 192.0.2.10", 2));
    }

    [Fact]
    public async Task From_a_sender_who_is_no_proxy_of_the_settings_the_header_is_ignored()
    {
        // The same machine, but the settings name another proxy, or none.
        foreach (var proxies in new[] { "192.0.2.7", "" })
        {
            await using var other = new ServiceProcess(
                [],
                machine.Environment([("SignIn__Proxies", proxies), ("BACKHISTORY_STATE", machine.Another())])
            );
            await other.Ready();
            var taken = 0;
            for (var i = 0; i < MachineFolder.Guesses + 2; i++)
                taken += await Try(await other.Address(), $"203.0.113.{i}", i) ? 1 : 0;
            Assert.Equal(MachineFolder.Guesses, taken);
            Assert.Equal(0, await other.Terminate());
        }
    }

    [Fact]
    public async Task A_proxy_that_is_no_address_is_refused_at_the_start_with_a_sentence()
    {
        var (status, said, _) = await machine.Run([], ("SignIn__Proxies", "10.0.0.1 the-proxy"), ("BACKHISTORY_STATE", machine.Another()));
        Assert.Equal(1, status);
        Assert.StartsWith("SignIn__Proxies names the-proxy, which is neither an address nor a network", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_else_on_the_machine_reads_the_state_folder_whatever_made_it_and_half_an_archive_is_gone()
    {
        if (OperatingSystem.IsWindows())
            return;
        using var browser = From("198.51.100.2");
        // A letter with a link lands as a file.
        await browser.Send("/forgotten", "/forgotten", ("email", MachineFolder.Email));
        var mail = Path.Combine(machine.State, "mail");
        for (var waited = 0; Directory.GetFiles(mail, "*.eml").Length < 2; waited++)
        {
            Assert.True(waited < 4800, "the letter did not land in four minutes");
            await Task.Delay(50);
        }

        Assert.False(File.Exists(Path.Combine(machine.State, "archives", "left.zip")));
        var entries = new DirectoryInfo(machine.State).GetFileSystemInfos("*", SearchOption.AllDirectories);
        Assert.Contains(entries, e => e.FullName.StartsWith(Path.Combine(machine.State, "keys", "key-"), StringComparison.Ordinal));
        Assert.Empty(entries.Where(e => (e.UnixFileMode & OthersToo) != UnixFileMode.None).Select(e => $"{e.FullName} {e.UnixFileMode}"));
        Assert.Equal((UnixFileMode)0b111_000_000, File.GetUnixFileMode(machine.State));
    }

    [Theory]
    [InlineData(0b111_101_101)]
    [InlineData(0b111_001_001)]
    [InlineData(0b111_111_111)]
    public async Task A_state_folder_that_others_could_enter_is_closed_before_anything_else_is_done(int mode)
    {
        if (OperatingSystem.IsWindows())
            return;
        var state = machine.Another();
        File.SetUnixFileMode(state, (UnixFileMode)mode);
        // Whatever becomes of the rest: here it is refused for a setting.
        await machine.Run(["recover-account", "Nobody", "nobody@members.invalid"], ("BACKHISTORY_STATE", state));
        Assert.Equal((UnixFileMode)0b111_000_000, File.GetUnixFileMode(state));
    }

    private Browser From(string address)
    {
        var browser = new Browser(machine.Address);
        browser.Client.DefaultRequestHeaders.Add("X-Forwarded-For", address);
        return browser;
    }

    /// <returns>How many of so many wrong passwords were looked at.</returns>
    private async Task<int> Tries(string from, int times)
    {
        var taken = 0;
        for (var i = 0; i < times; i++)
            taken += await Try(machine.Address, from, i) ? 1 : 0;
        return taken;
    }

    private static async Task<bool> Try(Uri address, string from, int number)
    {
        using var browser = new Browser(address);
        browser.Client.DefaultRequestHeaders.Add("X-Forwarded-For", from);
        var answer = await browser.Send(
            "/sign-in",
            "/sign-in",
            ("email", $"{Guid.NewGuid():N}.{number}@nowhere.invalid"),
            ("password", Wrong)
        );
        return answer.Headers.Location!.ToString() == "/sign-in?failed=1";
    }

    /// <summary>By the page, as a person does.</summary>
    private static async Task SetUpCodes(Browser browser)
    {
        await browser.Send("/me/second-factor", "/me/second-factor/begin");
        var page = await browser.Page("/me/second-factor?app=1");
        var secret = Regex
            .Match(page, "<code class=\"secret\">(?<s>[A-Z2-7 ]+)</code>", RegexOptions.None, Regex.InfiniteMatchTimeout)
            .Groups["s"]
            .Value.Replace(" ", "", StringComparison.Ordinal);
        var answer = await browser.Send(
            "/me/second-factor?app=1",
            "/me/second-factor/confirm",
            ("code", TimeCodes.At(secret, TimeProvider.System.GetUtcNow()))
        );
        Assert.Equal("/me/second-factor?done=codes", answer.Headers.Location!.ToString());
    }
}
