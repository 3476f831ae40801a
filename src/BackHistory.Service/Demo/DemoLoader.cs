using System.Security.Cryptography;
using BackHistory.Application.Demo;
using BackHistory.History;
using BackHistory.Service.Configuration;
using BackHistory.Service.Jobs;
using BackHistory.Service.Practices;
using BackHistory.Service.Store;
using BackHistory.Service.Web;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using Hangfire;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Demo;

/// <summary>
/// Fills an empty store with an invented practice; then lets people in. Interrupted, it goes on where it stopped.
/// </summary>
internal sealed class DemoLoader(
    Settings settings,
    DemoSize size,
    Commands commands,
    HorseQueries horses,
    PracticeQueries practices,
    KnownPractices known,
    AccountDocuments accounts,
    AccessKeys keys,
    Progress progress,
    IServiceScopeFactory scopes,
    Schedule schedule,
    IBackgroundJobClient jobs,
    ChangeNotifier notifier,
    Readiness readiness,
    TimeProvider time,
    ILogger<DemoLoader> log
) : BackgroundService
{
    /// <summary>The tenant of the invented practice.</summary>
    private const string Tenant = InventedStore.Tenant;

    private const string Email = "manager@practice.invalid";

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await Fill(stoppingToken);
            await schedule.Keep(stoppingToken);
            foreach (var practice in await known.All(stoppingToken))
                notifier.SomethingHappened(practice.Id);
            readiness.Ready();
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // Told to stop: the next start goes on.
        }
        catch (Exception e)
        {
            log.LogCritical(e, "The store could not be prepared.");
            readiness.Say("The store could not be prepared; the log of the service says why.");
            throw;
        }
    }

    private async Task Fill(CancellationToken ct)
    {
        var marker = Path.Combine(settings.State, "invented-practice");
        var practicesThere = await known.All(ct);
        if (practicesThere.Count > 0 || !settings.Demo)
        {
            if (practicesThere.Any(p => p.Id == Tenant) && File.Exists(marker))
                await Tell(marker, ct);
            return;
        }

        readiness.Say("An invented practice is being loaded, so that there is something to see.");
        var today = ZoneClock.Day(time.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById(InventedPractice.TimeZone));
        var invented = new InventedPractice(size.Seed, size.Horses, today, size.Years);
        await new InventedStore(commands, horses, practices).Take(
            invented,
            n =>
            {
                if (n % 10 == 0)
                    readiness.Say($"An invented practice is being loaded: {n} of {size.Horses} horses.");
            },
            ct
        );
        readiness.Say("The read models are catching up.");
        await progress.Wait(await progress.Last(ct), TimeSpan.FromMinutes(10), time, ct);
        await SignIn(invented, marker, ct);
        // Last: a store without this line is filled again, and finds done what was done.
        await known.Add(new KnownPractice(Tenant, InventedPractice.Name, InventedPractice.TimeZone), ct);
        jobs.Enqueue<LearningJob>(job => job.Run(Tenant, CancellationToken.None));
        await Tell(marker, ct);
    }

    private async Task SignIn(InventedPractice invented, string marker, CancellationToken ct)
    {
        using var scope = scopes.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var password = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
        var account = await accounts.ByEmail(users.NormalizeEmail(Email)!, ct);
        if (account is null)
        {
            account = new Account
            {
                Id = invented.Manager.Id,
                Email = Email,
                EmailConfirmed = true,
                Invented = true,
                Memberships = [new Membership(Tenant, invented.Manager.Id, PracticeRole.Administrator)],
                Working = Tenant,
            };
            var made = await users.CreateAsync(account, password);
            if (!made.Succeeded)
                throw new InvalidOperationException(string.Join(' ', made.Errors.Select(e => e.Description)));
        }
        else
        {
            await users.ResetPasswordAsync(account, await users.GeneratePasswordResetTokenAsync(account), password);
        }

        var key = AccessKey.Make();
        await keys.Save(
            new AccessKey(
                AccessKey.HashOf(key),
                "made with the invented practice",
                account.Id,
                Tenant,
                time.GetUtcNow(),
                time.GetUtcNow().AddYears(1)
            ),
            ct
        );
        // Closed from its first byte on, and moved into place whole.
        var half = $"{marker}.{Guid.NewGuid():N}.tmp";
        await using (var file = ClosedFiles.NewFile(half))
        await using (var words = new StreamWriter(file))
            await words.WriteAsync($"sign in as {Email} with {password}\nkey for programs: {key}\n".AsMemory(), ct);
        File.Move(half, marker, overwrite: true);
    }

    private static async Task Tell(string marker, CancellationToken ct) =>
        await Console.Out.WriteLineAsync($"The invented practice: {(await File.ReadAllTextAsync(marker, ct)).Trim()}");
}
