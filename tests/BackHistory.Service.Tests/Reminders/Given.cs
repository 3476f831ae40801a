using System.Globalization;
using System.Text.Json;
using BackHistory.History.Reminders;
using BackHistory.Store.Reminders;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>A horse whose back has opened, and the reminder that follows.</summary>
internal static class Given
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    public static ReminderQueries Queries(this RunningService service) => service.Services.GetRequiredService<ReminderQueries>();

    /// <summary>Its first letter has left.</summary>
    public static async Task<Reminder> Told(
        this RunningService service,
        HttpClient client,
        string horseName,
        string practice = RunningService.Mine,
        string language = "en"
    )
    {
        var owner = await service.Person(practice, $"Owner of {horseName}", language: language);
        var horse = await LetterTests.Fitted(client, owner, horseName);
        await LetterTests.Visit(client, horse, -1, 33, 33);
        return await Wait(async () =>
            (await service.Queries().Newest(practice, [], horse, null, 10, CancellationToken.None)).FirstOrDefault(r =>
                r.Post.Any(l => l.State == LetterState.Sent)
            )
        );
    }

    public static async Task<Reminder> Load(this RunningService service, Reminder reminder, string practice = RunningService.Mine) =>
        (await service.Queries().Load(practice, reminder.Id, CancellationToken.None))!;

    public static async Task<T> Wait<T>(Func<Task<T?>> look)
        where T : class
    {
        var from = TimeProvider.System.GetTimestamp();
        while (true)
        {
            if (await look() is { } found)
                return found;
            Assert.True(TimeProvider.System.GetElapsedTime(from) < Patience, "nothing came in five minutes");
            await Task.Delay(200);
        }
    }

    public static DateTimeOffset InDays(int days) => TestClock.Running.GetUtcNow().AddDays(days);

    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static string Code(JsonElement problem) => problem.GetProperty("code").GetString()!;
}
