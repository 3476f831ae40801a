using BackHistory.Service.Configuration;
using BackHistory.Service.Store;
using BackHistory.Store;
using BackHistory.Store.Setup;

namespace BackHistory.Service;

/// <summary>What somebody does who runs a command on the machine itself, whether the service runs at that moment or not. Nothing is
/// listened to and nothing is asked over the network.</summary>
internal static class OnThisMachine
{
    /// <returns>What <paramref name="errand"/> returns; 1 where the store cannot be opened.</returns>
    public static async Task<int> Do(Func<IServiceProvider, Task<int>> errand, TextWriter error)
    {
        PrivatePostgres? postgres = null;
        IDisposable? alone = null;
        try
        {
            var settings = Settings.FromEnvironment(new ConfigurationBuilder().AddEnvironmentVariables().Build());
            StateFolder.Close(settings.State);
            alone = OnlyOne.TryTake(settings.State);
            postgres = settings.Database is null
                ? await PrivatePostgres.Start(Path.Combine(settings.State, "postgres"), durable: true, default)
                : null;
            await using var app = Host.Build(settings, settings.Database ?? await postgres!.ConnectionString("backhistory", default));
            await StoreSetup.ApplySchema(app.Services);
            return await errand(app.Services);
        }
        catch (Exception e) when (e is PostgresMissingException or TenantIsolationException or SettingException or OpenFolderException)
        {
            await error.WriteLineAsync(e.Message);
            return 1;
        }
        finally
        {
            // A service that is running keeps its database.
            if (postgres is not null && alone is not null)
                await postgres.DisposeAsync();
            alone?.Dispose();
        }
    }
}
