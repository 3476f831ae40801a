using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;

namespace BackHistory.Service.Tests;

/// <summary>A state folder of its own, and whatever runs in it: started when asked for, ended with the tests.</summary>
public sealed class StateFolder : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("backhistory-process-");
    private MailCatcher _mail = null!;
    private ServiceProcess? _service;
    private bool _lettersLeave;

    internal string Path => _folder.FullName;

    internal MailCatcher Mail => _mail;

    public async ValueTask InitializeAsync()
    {
        // PostgreSQL does not run as root; the user that it then runs as must be let through to its folder.
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(Path, _folder.UnixFileMode | UnixFileMode.OtherExecute | UnixFileMode.GroupExecute);
        _mail = await MailCatcher.Start();
    }

    /// <summary>The service that runs here, started where none does; small, with a mail server.</summary>
    internal async Task<ServiceProcess> Running()
    {
        if (_service is { HasExited: false })
            return _service;
        if (_service is not null)
            await _service.DisposeAsync();
        _service = Start();
        await _service.Ready();
        if (!_lettersLeave)
            await LettersLeaveAtAnyHour(_service);
        _lettersLeave = true;
        return _service;
    }

    /// <summary>As a manager lets them: what is read is changed and sent back.</summary>
    private static async Task LettersLeaveAtAnyHour(ServiceProcess service)
    {
        using var client = await service.Client();
        var rules = JsonNode.Parse(await client.GetStringAsync("/api/reminder-rules"))!["rules"]!;
        rules["letters"]!["keepQuiet"] = false;
        var changed = await client.Write(
            HttpMethod.Put,
            "/api/reminder-rules",
            new JsonObject { ["rules"] = rules.DeepClone(), ["reason"] = "Tests run at any hour." }.ToJsonString()
        );
        Assert.True(changed.IsSuccessStatusCode, await changed.Content.ReadAsStringAsync());
        Assert.True((await client.Write(HttpMethod.Post, "/api/letters/release", "{}")).IsSuccessStatusCode);
    }

    /// <summary>One more process on this folder, whether another runs or not.</summary>
    internal ServiceProcess Start() =>
        new(
            [],
            new()
            {
                ["BACKHISTORY_STATE"] = Path,
                ["BACKHISTORY_URLS"] = "http://127.0.0.1:0",
                ["BACKHISTORY_DEMO_HORSES"] = "2",
                ["Mail__Host"] = "127.0.0.1",
                ["Mail__Port"] = _mail.Port.ToString(CultureInfo.InvariantCulture),
            }
        );

    /// <summary>The running PostgreSQL's process id, as its own file says; null when none runs.</summary>
    internal int? Postgres()
    {
        var file = System.IO.Path.Combine(Path, "postgres", "data", "postmaster.pid");
        if (!File.Exists(file) || !int.TryParse(File.ReadLines(file).First(), CultureInfo.InvariantCulture, out var pid))
            return null;
        return Directory.Exists($"/proc/{pid}") ? pid : null;
    }

    public async ValueTask DisposeAsync()
    {
        if (_service is not null)
            await _service.DisposeAsync();
        if (Postgres() is { } pid)
        {
            // Immediate shutdown: the folder goes anyway.
            using var kill = Process.Start("kill", ["-QUIT", pid.ToString(CultureInfo.InvariantCulture)]);
            await kill.WaitForExitAsync();
            while (Postgres() is not null)
                await Task.Delay(50);
        }

        await _mail.DisposeAsync();
        _folder.Delete(recursive: true);
    }
}
