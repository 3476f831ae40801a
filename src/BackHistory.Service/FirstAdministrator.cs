using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Configuration;
using BackHistory.Service.Store;
using BackHistory.Store;
using BackHistory.Store.Setup;

namespace BackHistory.Service;

/// <summary>
/// <c>first-administrator EMAIL PRACTICE [TIME-ZONE]</c>: founds a practice and prints the one link that lets its first administrator in.
/// There is no default password anywhere; whoever can run this on the machine is who the installation belongs to.
/// </summary>
public static class FirstAdministrator
{
    public const string Verb = "first-administrator";
    private const int WrongCall = 2;

    public static async Task<int> Run(string[] args, TextWriter output, TextWriter error)
    {
        if (
            args is not [_, var email, var name, ..]
            || args.Length > 4
            || !EmailAddress.TryParse(email, out var address)
            || address.Value != email
        )
        {
            await error.WriteLineAsync(
                $"usage: {Verb} EMAIL PRACTICE-NAME [TIME-ZONE]   for example: {Verb} you@example.org \"My practice\" Europe/Berlin"
            );
            return WrongCall;
        }

        var settings = Settings.FromEnvironment(new ConfigurationBuilder().AddEnvironmentVariables().Build());
        Directory.CreateDirectory(settings.State);
        using var alone = OnlyOne.TryTake(settings.State);
        var postgres = settings.Database is null
            ? await PrivatePostgres.Start(Path.Combine(settings.State, "postgres"), durable: true, default)
            : null;
        try
        {
            await using var app = Host.Build(settings, settings.Database ?? await postgres!.ConnectionString("backhistory", default));
            await StoreSetup.ApplySchema(app.Services);
            var (link, refused) = await Found(app.Services, email, name.Trim(), args.Length == 4 ? args[3] : "Etc/UTC", default);
            if (refused is not null)
            {
                await error.WriteLineAsync(refused.Message);
                return 1;
            }

            await output.WriteLineAsync(
                $"Open this within a day, on this computer or any that reaches the service, and choose a password:\n{link}"
            );
            return 0;
        }
        finally
        {
            // A service that is running keeps its database.
            if (postgres is not null && alone is not null)
                await postgres.DisposeAsync();
        }
    }

    /// <summary>Founds the practice, or goes on where an earlier run stopped before anybody came.</summary>
    internal static async Task<(string? Link, Refused? Refused)> Found(
        IServiceProvider services,
        string email,
        string name,
        string timeZone,
        CancellationToken ct
    )
    {
        var open = services.GetRequiredService<OpenPractice>();
        var (invitation, refused) = await open.Do(new OpenPractice.Input(Guid.NewGuid(), email, name, timeZone), ct);
        return (invitation is null ? null : services.GetRequiredService<AccountLinks>().Accept(invitation), refused);
    }
}
