using System.Text.RegularExpressions;
using BackHistory.Service.Configuration;
using BackHistory.Testing;
using Microsoft.Extensions.Configuration;
using Npgsql;

namespace BackHistory.Service.Tests;

/// <summary>No container engine is needed to see that the container file sets what the service reads.</summary>
public sealed partial class ContainerFileTests
{
    private static readonly string[] Known =
    [
        "BACKHISTORY_URLS",
        "BACKHISTORY_STATE",
        "BACKHISTORY_PUBLIC_URL",
        "BACKHISTORY_DEMO",
        "ConnectionStrings__Main",
        "Mail__Host",
        "Mail__Port",
        "Mail__User",
        "Mail__Password",
        "Mail__From",
        "Mail__Domain",
        "Mail__InClear",
    ];

    [Fact]
    public void The_container_file_sets_only_what_the_service_reads_and_points_it_at_its_neighbours()
    {
        var set = EnvironmentOf("service");
        Assert.Empty(set.Keys.Except(Known, StringComparer.Ordinal));
        var settings = Settings.FromEnvironment(
            new ConfigurationBuilder()
                .AddInMemoryCollection(set.ToDictionary(p => p.Key.Replace("__", ":", StringComparison.Ordinal), p => (string?)p.Value))
                .Build()
        );

        var database = new NpgsqlConnectionStringBuilder(settings.Database);
        var server = EnvironmentOf("database");
        Assert.Equal("database", database.Host);
        Assert.Equal(server["POSTGRES_DB"], database.Database);
        Assert.Equal(server["POSTGRES_USER"], database.Username);
        Assert.Equal(server["POSTGRES_PASSWORD"], database.Password);
        Assert.Equal(("mail", 1025), (settings.Mail.Host, settings.Mail.Port));
        // The catcher of a try-out speaks no encryption.
        Assert.True(settings.Mail.InClear);
        Assert.Equal("/state", settings.State);
        Assert.True(settings.Demo);
        Assert.Contains(
            $"\"127.0.0.1:{new Uri(settings.Urls.Replace("0.0.0.0", "localhost", StringComparison.Ordinal)).Port}:5080\"",
            Compose,
            StringComparison.Ordinal
        );
    }

    private static string Compose => File.ReadAllText(Path.Combine(Repository.Root, "docker-compose.yml"));

    /// <summary>The environment of one service, with the defaults of what the user may set.</summary>
    private static Dictionary<string, string> EnvironmentOf(string service)
    {
        var block = Regex.Match(
            Compose,
            $@"^  {service}:\n(?:(?:    .*)?\n)*?    environment:\n(?<set>(?:      .*\n)+)",
            RegexOptions.Multiline | RegexOptions.ExplicitCapture
        );
        Assert.True(block.Success, $"{service} has no environment");
        return Variable()
            .Matches(block.Groups["set"].Value)
            .ToDictionary(
                m => m.Groups["name"].Value,
                m => Default().Replace(m.Groups["value"].Value.Trim('"'), d => d.Groups["value"].Value),
                StringComparer.Ordinal
            );
    }

    [GeneratedRegex(@"^ +(?<name>\w+): (?<value>.+)$", RegexOptions.Multiline | RegexOptions.ExplicitCapture)]
    private static partial Regex Variable();

    [GeneratedRegex(@"\$\{\w+:-(?<value>[^}]*)\}", RegexOptions.ExplicitCapture)]
    private static partial Regex Default();
}
