using System.Net;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>What owners and vets say stands where somebody looks who can act on it: in the caseload, on the list of reminders and in the
/// horse's history, at once.</summary>
public sealed class HeardTests(RunningService service)
{
    private const string Practice = "heard";

    [Fact]
    public async Task An_answer_a_comment_of_a_vet_and_no_more_letters_stand_in_the_caseload_and_on_the_horses_page()
    {
        await service.Found(Practice);
        using var client = service.Client(Practice);
        var reminder = await service.Told(client, "Heard Of", Practice);
        var content = (await service.Queries().Content(Practice, reminder.Post[0].LetterId, default))!;
        using var reader = service.Browser();
        using var desk = await service.SignedIn(await service.Member("Who Hears", (Practice, PracticeRole.Fitter)));
        Assert.DoesNotContain("answered:", await desk.Until("/", "Heard Of"), StringComparison.Ordinal);

        // The owner answers by the letter, and wants no more of them.
        var book = System.Text.RegularExpressions.Regex.Match(
            content.Text,
            @"http\S+/letter/\S+",
            default,
            System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
        );
        await reader.Client.PostAsync(new Uri(book.Value).AbsolutePath, new FormUrlEncodedContent([new("words", "On a Tuesday.")]));
        await reader.Client.PostAsync(
            new Uri(content.StopUrl).AbsolutePath,
            new FormUrlEncodedContent([new("List-Unsubscribe", "One-Click")])
        );
        // The vet comments by the link of the share.
        var made = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{reminder.HorseId}/sharing/links",
            new { role = "veterinarian", bindsToDevice = false }
        );
        var link = new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath;
        await reader.Until(link, "Heard Of");
        await reader.Send(link, link + "/comment", ("key", Guid.NewGuid().ToString()), ("words", "Sore behind the withers."));

        var caseload = WebUtility.HtmlDecode(await desk.Until("/", "answered: asks for a visit"));
        Assert.Contains("wants no more letters of this kind", caseload, StringComparison.Ordinal);
        Assert.Contains("comment of the veterinary surgeon, 25 Nov 2026", caseload, StringComparison.Ordinal);
        Assert.Contains($"q=Heard%20Of&of={reminder.Id}", caseload, StringComparison.Ordinal);
        var history = WebUtility.HtmlDecode(await desk.Until($"/horses/{reminder.HorseId}", "On a Tuesday."));
        Assert.Contains("Comment of the veterinary surgeon", history, StringComparison.Ordinal);
        Assert.Contains("Sore behind the withers.", history, StringComparison.Ordinal);
        Assert.Contains("The owner asked for no more letters of these kinds", history, StringComparison.Ordinal);
        Assert.Contains("answered: asks for a visit", await desk.Page("/reminders"), StringComparison.Ordinal);
        Assert.Equal(ReminderState.Open, (await service.Load(reminder, Practice)).State);
    }
}
