using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using System.Text.RegularExpressions;

namespace BackHistory.Service.Tests;

/// <summary>The executable as a user starts it: a child process, built beside this test.</summary>
internal sealed partial class ServiceProcess : IAsyncDisposable
{
    /// <summary>On a busy machine a first start takes its time.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    private readonly Process _process;
    private readonly StringBuilder _said = new();
    private readonly string? _state;

    public ServiceProcess(string[] arguments, Dictionary<string, string> environment)
    {
        var start = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, "BackHistory.Service"), arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
            WorkingDirectory = "/",
        };
        foreach (
            var name in start
                .Environment.Keys.Where(k =>
                    k.StartsWith("BACKHISTORY_", StringComparison.Ordinal) || k.StartsWith("ConnectionStrings__", StringComparison.Ordinal)
                )
                .ToList()
        )
            start.Environment.Remove(name);
        foreach (var (name, value) in environment)
            start.Environment[name] = value;
        _state = environment.GetValueOrDefault("BACKHISTORY_STATE");
        _process = Process.Start(start)!;
        if (arguments.Length > 0)
            return;
        _process.OutputDataReceived += (_, e) => Hear(e.Data);
        _process.ErrorDataReceived += (_, e) => Hear(e.Data);
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    public bool HasExited => _process.HasExited;

    public StreamWriter Input => _process.StandardInput;

    public StreamReader Output => _process.StandardOutput;

    public StreamReader Error => _process.StandardError;

    /// <summary>What the service said on both its streams.</summary>
    public string Said
    {
        get
        {
            lock (_said)
                return _said.ToString();
        }
    }

    /// <summary>Waits until the service serves.</summary>
    public async Task Ready()
    {
        using var client = Anonymous(await Address());
        await Until(async () =>
        {
            try
            {
                return (await client.GetAsync("/health/ready")).IsSuccessStatusCode;
            }
            catch (HttpRequestException)
            {
                return false;
            }
        });
    }

    /// <summary>A client with the key that the service printed for programs.</summary>
    public async Task<HttpClient> Client()
    {
        var client = Anonymous(await Address());
        var told = await File.ReadAllTextAsync(Path.Combine(_state!, "invented-practice"));
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Key().Match(told).Groups["key"].Value);
        return client;
    }

    /// <summary><c>kill -9</c>, of this process alone.</summary>
    public async Task Kill()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
    }

    /// <summary>Asks the process to stop, as a service manager does.</summary>
    /// <returns>Its exit status.</returns>
    public async Task<int> Terminate()
    {
        using var kill = Process.Start("kill", ["-TERM", _process.Id.ToString(CultureInfo.InvariantCulture)]);
        await kill.WaitForExitAsync();
        return await Exit();
    }

    public async Task<int> Exit()
    {
        await _process.WaitForExitAsync().WaitAsync(Patience);
        return _process.ExitCode;
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
            await Kill();
        _process.Dispose();
    }

    public async Task<Uri> Address()
    {
        await Until(() => Task.FromResult(Listening().IsMatch(Said)));
        return new Uri(Listening().Match(Said).Groups["url"].Value);
    }

    private async Task Until(Func<Task<bool>> reached)
    {
        var from = TimeProvider.System.GetTimestamp();
        while (!await reached())
        {
            Assert.False(_process.HasExited, $"the service ended by itself:\n{Said}");
            Assert.True(TimeProvider.System.GetElapsedTime(from) < Patience, $"not ready within {Patience.TotalMinutes} minutes:\n{Said}");
            await Task.Delay(50);
        }
    }

    private void Hear(string? line)
    {
        // The end of either stream is no line.
        if (line is null)
            return;
        lock (_said)
            _said.AppendLine(line);
    }

    private static HttpClient Anonymous(Uri address) => new() { BaseAddress = address };

    [GeneratedRegex(@"listening on: (?<url>http://\S+)", RegexOptions.ExplicitCapture)]
    private static partial Regex Listening();

    [GeneratedRegex(@"key for programs: (?<key>\S+)", RegexOptions.ExplicitCapture)]
    private static partial Regex Key();
}
