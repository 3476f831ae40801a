using BackHistory.History.Reminders;
using BackHistory.Store.Reminders;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;

namespace BackHistory.Service.Tests;

public sealed class LetterTests(RunningService service)
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    [Fact]
    public async Task A_visit_that_opens_both_shoulders_by_twelve_degrees_leads_to_one_letter_with_its_chart()
    {
        using var client = service.Client();
        var owner = await service.Person(RunningService.Mine, "Owner Of The Test");
        var horse = await Fitted(client, owner);
        await Visit(client, horse, -1, 33, 33);

        var reminder = await Wait(async () =>
            (await Queries.Newest(RunningService.Mine, [], horse, null, 10, CancellationToken.None)).FirstOrDefault(r =>
                r.Letters.Values.Any(l => l == LetterState.Sent)
            )
        );
        Assert.Equal(ReminderRule.ShapeChanged, reminder.Rule);
        var letter = Assert.Single(reminder.Letters);
        var message = await MimeMessage.LoadAsync(Path.Combine(service.MailFolder, $"{letter.Key:N}.eml"));
        Assert.Equal($"{letter.Key:N}@backhistory.invalid", message.MessageId);
        Assert.DoesNotContain("Owner Of The Test", message.Subject, StringComparison.Ordinal);
        Assert.Contains(reminder.Evidence.Sentence[..20], message.TextBody, StringComparison.Ordinal);
        var png = message.BodyParts.OfType<MimePart>().Single(p => p.ContentId == "trend@letter");
        using var bytes = new MemoryStream();
        await png.Content!.DecodeToAsync(bytes);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], bytes.ToArray()[..4]);
        Assert.Contains("cid:trend@letter", message.HtmlBody, StringComparison.Ordinal);
        Assert.Equal("List-Unsubscribe=One-Click", message.Headers[HeaderId.ListUnsubscribePost]);
    }

    [Fact]
    public async Task An_answer_by_the_letters_link_reaches_the_reminder_once_and_an_altered_link_reaches_nothing()
    {
        using var client = service.Client();
        var owner = await service.Person(RunningService.Mine, "Answering Owner");
        var horse = await Fitted(client, owner, "Answered Horse");
        await Visit(client, horse, -1, 33, 33);
        var reminder = await Wait(async () =>
            (await Queries.Newest(RunningService.Mine, [], horse, null, 10, CancellationToken.None)).FirstOrDefault(r =>
                r.Letters.Values.Any(l => l == LetterState.Sent)
            )
        );
        var content = (await Queries.Content(RunningService.Mine, reminder.Letters.Single().Key, CancellationToken.None))!;
        var links = System
            .Text.RegularExpressions.Regex.Matches(
                content.Text,
                @"http\S+/letter/\S+",
                System.Text.RegularExpressions.RegexOptions.None,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Select(m => new Uri(m.Value).AbsolutePath)
            .ToList();
        Assert.True(links.Count >= 4, $"{links.Count} links: three answers and the end of such letters");

        using var reader = service.Anonymous();
        var page = await reader.GetStringAsync(links[0]);
        Assert.Contains("Ask for a visit?", page, StringComparison.Ordinal);
        // As the letter did: whoever has several horses knows which one it is about.
        Assert.Contains("About Answered Horse.", page, StringComparison.Ordinal);
        Assert.Null((await Queries.Load(RunningService.Mine, reminder.Id, CancellationToken.None))!.Answer);
        for (var i = 0; i < 2; i++)
        {
            var posted = await reader.PostAsync(links[0], new FormUrlEncodedContent([new("words", "")]));
            Assert.Equal(System.Net.HttpStatusCode.Redirect, posted.StatusCode);
        }

        var answered = (await Queries.Load(RunningService.Mine, reminder.Id, CancellationToken.None))!;
        Assert.Equal(Answer.Book, answered.Answer);

        var altered = links[1][..^3] + "abc";
        Assert.Contains("does not work any more", await reader.GetStringAsync(altered), StringComparison.Ordinal);
        await reader.PostAsync(altered, new FormUrlEncodedContent([]));
        Assert.Equal(answered.Version, (await Queries.Load(RunningService.Mine, reminder.Id, CancellationToken.None))!.Version);
    }

    private ReminderQueries Queries => service.Services.GetRequiredService<ReminderQueries>();

    /// <summary>Three visits of one shape and a saddle set to the last, half a year ago.</summary>
    /// <param name="clock">The service's; a process of its own goes by the machine's.</param>
    internal static async Task<Guid> Fitted(HttpClient client, Guid owner, string name = "Opening Horse", TimeProvider? clock = null)
    {
        var horse = await client.Horse(name, owner);
        foreach (var days in new[] { -320, -260 })
            await Visit(client, horse, days, 45, 45, clock);
        var visit = await Visit(client, horse, -120, 45, 45, clock);
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = name })).Json()).GetProperty("id").GetGuid();
        var set = await client.Write(
            HttpMethod.Post,
            $"/api/saddles/{saddle}/work",
            new
            {
                kind = "set",
                horseId = horse,
                visitId = visit,
                takenAt = DateTimeOffset.UnixEpoch.AddSeconds(Seconds(-120, clock)),
                fresh = false,
            }
        );
        Assert.Equal(System.Net.HttpStatusCode.Created, set.StatusCode);
        return horse;
    }

    internal static async Task<Guid> Visit(HttpClient client, Guid horse, int days, double left, double right, TimeProvider? clock = null)
    {
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = DateTimeOffset.UnixEpoch.AddSeconds(Seconds(days, clock)),
                method = "flexible-curve",
                entries = new[] { ClientExtensions.Section(left, right) },
            }
        );
        Assert.True(response.IsSuccessStatusCode, await response.Content.ReadAsStringAsync());
        return (await response.Json()).GetProperty("visitId").GetGuid();
    }

    private static long Seconds(int days, TimeProvider? clock) =>
        (clock ?? TestClock.Running).GetUtcNow().AddDays(days).ToUnixTimeSeconds();

    private static async Task<T> Wait<T>(Func<Task<T?>> look)
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
}
