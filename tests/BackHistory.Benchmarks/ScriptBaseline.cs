using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;

namespace BackHistory.Benchmarks;

/// <summary>Runs a baseline script with a general package of Debian's in a clean environment; it prints one number.</summary>
internal static class ScriptBaseline
{
    /// <param name="packages">what to install where the script cannot run</param>
    /// <returns>The number, or null, with the reason on standard error, where the program or its libraries are missing.</returns>
    internal static double? Python(string script, string input, string packages) => Run("/usr/bin/python3", "-I", script, input, packages);

    /// <inheritdoc cref="Python"/>
    internal static double? R(string script, string input, string packages) =>
        Run("/usr/bin/Rscript", "--vanilla", script, input, packages);

    private static double? Run(string program, string option, string script, string input, string packages)
    {
        var start = new ProcessStartInfo(program)
        {
            ArgumentList = { option, Path.Combine(AppContext.BaseDirectory, "baselines", script) },
            UseShellExecute = false,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment.Clear();
        start.Environment["PATH"] = "/usr/bin:/bin";
        try
        {
            using var process = Process.Start(start)!;
            var errors = process.StandardError.ReadToEndAsync();
            try
            {
                process.StandardInput.Write(input);
                process.StandardInput.Close();
            }
            catch (IOException)
            {
                // It ended before it had read everything: what it said tells why.
            }

            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0 && double.TryParse(output.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
                ? value
                : Missing(errors.Result.Trim().Split('\n')[^1]);
        }
        catch (Win32Exception)
        {
            return Missing($"there is no {program}");
        }

        double? Missing(string why)
        {
            Console.Error.WriteLine($"{script}: no baseline ({why}). It needs: apt-get install {packages}");
            return null;
        }
    }
}
