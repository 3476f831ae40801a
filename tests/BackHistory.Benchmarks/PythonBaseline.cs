using System.Diagnostics;
using System.Globalization;

namespace BackHistory.Benchmarks;

/// <summary>Runs a baseline script with Debian's Python in a clean environment; it prints one number.</summary>
internal static class PythonBaseline
{
    private const string Python = "/usr/bin/python3";

    /// <summary>The number, or null, with the reason on standard error, where Python or its libraries are missing.</summary>
    internal static double? Run(string script, string input)
    {
        if (!File.Exists(Python)) return Missing("there is no /usr/bin/python3");
        var start = new ProcessStartInfo(Python)
        {
            ArgumentList = { "-I", Path.Combine(AppContext.BaseDirectory, "baselines", script) },
            UseShellExecute = false,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment.Clear();
        start.Environment["PATH"] = "/usr/bin:/bin";
        using var process = Process.Start(start)!;
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        var errors = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 && double.TryParse(output.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            ? value : Missing(errors.Result.Trim().Split('\n')[^1]);

        double? Missing(string why)
        {
            Console.Error.WriteLine($"{script}: no baseline ({why}). It needs: apt-get install python3-scipy python3-shapely");
            return null;
        }
    }
}
