using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>The executable over a database of its own, with a practice founded on its command line and a state folder that somebody
/// restored carelessly.</summary>
public sealed class MachineFolder : IAsyncLifetime
{
    internal const string Practice = "Lost Phone";
    internal const int Guesses = 8;
    internal const string Email = "only@administrators.invalid";
    internal const string Password = "seven black fillies jump";
    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-machine-");
    private readonly List<DirectoryInfo> _others = [];
    private string _database = "";

    internal ServiceProcess Service { get; private set; } = null!;

    internal Uri Address { get; private set; } = null!;

    internal string State => _state.FullName;

    public async ValueTask InitializeAsync()
    {
        _database = await TestServer.NewDatabase();
        var (status, said, _) = await Run(["first-administrator", Email, Practice, "Europe/Berlin"]);
        Assert.Equal(0, status);
        var welcome = PathIn(said);
        Loose("mail/old.eml", "archives/left.zip", "keys/restored.xml", "invented-practice");
        Service = new ServiceProcess([], Environment([]));
        await Service.Ready();
        Address = await Service.Address();
        using var first = new Browser(Address);
        await first.Send(welcome, welcome, ("password", Password), ("name", "Ada Marsh"));
    }

    /// <summary>One more process in this folder.</summary>
    internal async Task<(int Status, string Output, string Error)> Run(string[] arguments, params (string Name, string Value)[] more)
    {
        await using var process = new ServiceProcess(arguments, Environment(more));
        process.Input.Close();
        if (arguments.Length == 0)
            return (await process.Exit(), process.Said, "");
        var (output, error) = (process.Output.ReadToEndAsync(), process.Error.ReadToEndAsync());
        return (await process.Exit(), await output, await error);
    }

    /// <summary>The path of the address that was said; a line of the log may stand behind it.</summary>
    internal static string PathIn(string said) =>
        new Uri(said[said.IndexOf("http", StringComparison.Ordinal)..].Split((char[]?)null, 2)[0]).AbsolutePath;

    public async ValueTask DisposeAsync()
    {
        await Service.DisposeAsync();
        foreach (var folder in _others.Append(_state))
            folder.Delete(recursive: true);
    }

    /// <summary>One more folder, for a process that runs beside the first.</summary>
    internal string Another()
    {
        _others.Add(Directory.CreateTempSubdirectory("backhistory-machine-"));
        return _others[^1].FullName;
    }

    internal Dictionary<string, string> Environment((string Name, string Value)[] more)
    {
        var environment = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["BACKHISTORY_STATE"] = State,
            ["BACKHISTORY_URLS"] = "http://127.0.0.1:0",
            ["BACKHISTORY_DEMO"] = "no",
            ["ConnectionStrings__Main"] = _database,
            ["SignIn__Proxies"] = "192.0.2.0/24, 127.0.0.1",
            ["SignIn__Limits__Guesses"] = $"{Guesses}",
        };
        foreach (var (name, value) in more)
            environment[name] = value;
        return environment;
    }

    private void Loose(params string[] files)
    {
        foreach (var file in files.Select(f => Path.Combine(State, f)))
        {
            var folder = Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.WriteAllText(file, "<secret />");
            if (OperatingSystem.IsWindows())
                continue;
            folder.UnixFileMode = (UnixFileMode)0b111_101_101;
            File.SetUnixFileMode(file, (UnixFileMode)0b110_100_100);
        }
    }
}
