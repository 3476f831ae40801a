using System.Net;
using System.Text.RegularExpressions;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>The plan of the weeks that come, one day accepted at a time, the route of a day, and an owner who moves their visit.</summary>
public sealed partial class RollingPlanTests(RunningService service)
{
    private const string Practice = "rolling";

    [Fact]
    public async Task A_day_of_the_plan_is_looked_at_with_what_will_be_sent_booked_stands_in_the_plan_and_is_moved_by_its_owner()
    {
        await service.Found(Practice);
        using var client = service.Client(Practice);
        var fitter = await service.Person(Practice, "Rolling Fitter", PersonRole.Fitter);
        var near = await Yard(client, "Near Yard", 52.0, 13.0);
        var far = await Yard(client, "Far Yard", 52.0, 14.0);
        var (one, two) = (await service.Told(client, "Rolls Near", Practice), await service.Told(client, "Rolls Far", Practice));
        await Move(client, one.HorseId, near);
        await Move(client, two.HorseId, far);
        using var browser = await service.SignedIn(await service.Member("Rolls", (Practice, PracticeRole.Fitter)));

        var plan = WebUtility.HtmlDecode(await browser.Until("/plan", "Far Yard, Ferry Lane 1, Oldtown"));
        Assert.Contains("Visits in the next 4 weeks", plan, StringComparison.Ordinal);
        // One degree of longitude at 52° north: 111.195 km times the cosine, along the great circle.
        Assert.Contains("68 km on in a straight line", plan, StringComparison.Ordinal);
        var day = WebUtility.HtmlDecode(DayLinks().Match(plan).Groups["to"].Value);
        var page = await browser.Page(day);
        Assert.Contains("Sent to Owner of Rolls Near (", WebUtility.HtmlDecode(page), StringComparison.Ordinal);

        // However many a day holds, none is left out of it.
        var many = Enumerable.Range(0, 61).Select(_ => ($"Form.Shown[{Guid.NewGuid()}]", "-")).Append(($"Form.At[{one.HorseId}]", ""));
        Assert.Contains("Give the hour.", await Posted(browser, day, page, [.. many]), StringComparison.Ordinal);

        var told = await Posted(browser, day, page);
        Assert.Contains("2: booked.", told, StringComparison.Ordinal);
        var booked = await service.Load(one, Practice);
        Assert.Equal((ReminderState.Booked, fitter), (booked.State, booked.Fitter!.Value));
        // Sent once more, nothing is booked or told twice.
        Assert.Contains("2: booked.", await Posted(browser, day, page), StringComparison.Ordinal);
        Assert.Single((await service.Load(one, Practice)).Post, l => l.Kind == LetterKind.BookingMade);

        Assert.Contains("kind booked", await browser.Page("/plan"), StringComparison.Ordinal);
        var on = booked.BookedFor!.Value.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        var route = WebUtility.HtmlDecode(await browser.Page($"/plan/route?on={on}&fitter={fitter}"));
        Assert.Contains("Near Yard, Ferry Lane 1, Oldtown", route, StringComparison.Ordinal);
        Assert.Contains("geo:52,13", route, StringComparison.Ordinal);
        Assert.Contains("68 km between the yards in a straight line", route, StringComparison.Ordinal);

        await OwnerMoves(client, booked);
    }

    /// <summary>By the link of the letter that told the date.</summary>
    private async Task OwnerMoves(HttpClient client, Reminder booked)
    {
        var letter = await Given.Wait(async () =>
            (await service.Load(booked, Practice)).Post.FirstOrDefault(l => l is { Kind: LetterKind.BookingMade, State: LetterState.Sent })
        );
        var content = (await service.Queries().Content(Practice, letter.LetterId, CancellationToken.None))!;
        var link = new Uri(Links().Match(content.Text).Value).AbsolutePath;
        using var owner = service.Anonymous();
        // Tomorrow's route is not upset.
        var near = await owner.GetStringAsync(link);
        Assert.Contains("it is too near", near, StringComparison.Ordinal);
        Assert.Empty(Times().Matches(near));
        await client.Write(
            HttpMethod.Post,
            $"/api/reminders/{booked.Id}/book",
            new { @for = booked.BookedFor!.Value.AddDays(7), fitterId = booked.Fitter }
        );
        booked = await service.Load(booked, Practice);
        var page = await owner.GetStringAsync(link);
        Assert.Contains("Choose another day for Rolls Near", page, StringComparison.Ordinal);
        Assert.Contains("Rolling Fitter comes.", page, StringComparison.Ordinal);
        var offered = Times().Matches(page).Select(m => WebUtility.HtmlDecode(m.Groups["at"].Value)).ToList();
        Assert.NotEmpty(offered);
        Assert.DoesNotContain(offered, o => DateTimeOffset.Parse(o, System.Globalization.CultureInfo.InvariantCulture) == booked.BookedFor);

        async Task<string> Choose(string? at)
        {
            var answer = await owner.PostAsync($"{link}/day", new FormUrlEncodedContent(at is null ? [new("to", "")] : [new("to", at)]));
            return answer.Headers.Location!.ToString()[link.Length..];
        }

        Assert.Equal("?not=choose", await Choose(null));
        // What the practice does not offer is not booked: the middle of the night.
        Assert.Equal("?not=taken", await Choose("2026-12-09T02:00:00.0000000+00:00"));
        Assert.Equal(booked.BookedFor, (await service.Load(booked, Practice)).BookedFor);
        var to = DateTimeOffset.Parse(offered[^1], System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal("?moved=1", await Choose(offered[^1]));
        Assert.Equal("?moved=1", await Choose(offered[^1]));
        var moved = await service.Load(booked, Practice);
        Assert.Equal((to, 2), (moved.BookedFor!.Value, moved.BookingSequence));
        Assert.Equal(3, moved.Post.Count(l => l.Kind == LetterKind.BookingMade));

        // Sold: whoever had the horse reads nothing of its next visit, and moves none.
        var buyer = await service.Person(Practice, "Buyer of Rolls Near");
        await client.Write(HttpMethod.Put, $"/api/horses/{booked.HorseId}/owner", new { ownerId = buyer });
        var again = await Given.Wait(async () =>
        {
            var now = await owner.GetStringAsync(link);
            return now.Contains("No visit is booked", StringComparison.Ordinal) ? now : null;
        });
        Assert.Empty(Times().Matches(again));
        Assert.Equal("?not=taken", await Choose(offered[0]));
        Assert.Equal(to, (await service.Load(booked, Practice)).BookedFor);
    }

    [Fact]
    public async Task A_place_of_one_number_or_beyond_the_earth_is_refused_beside_its_field()
    {
        using var browser = await service.SignedIn(await service.Member("Places", (RunningService.Mine, PracticeRole.Fitter)));
        var page = await browser.Page("/yards/new");
        var half = await Posted(browser, "/yards/new", page, ("Form.Name", "Half A Place"), ("Form.Latitude", "52,5"));
        Assert.Contains("id=\"longitude-wrong\"", half, StringComparison.Ordinal);
        Assert.Contains("value=\"52,5\"", half, StringComparison.Ordinal);
        var beyond = await Posted(browser, "/yards/new", page, ("Form.Name", "Beyond"), ("Form.Latitude", "91"), ("Form.Longitude", "13"));
        Assert.Contains("id=\"latitude-wrong\"", beyond, StringComparison.Ordinal);
    }

    private static async Task<Guid> Yard(HttpClient client, string name, double latitude, double longitude)
    {
        var made = await client.Write(
            HttpMethod.Post,
            "/api/yards",
            new
            {
                name,
                town = "Oldtown",
                address = "Ferry Lane 1",
                latitude,
                longitude,
            }
        );
        return (await made.Json()).GetProperty("id").GetGuid();
    }

    private static async Task Move(HttpClient client, Guid horse, Guid yard)
    {
        var moved = await client.Write(HttpMethod.Put, $"/api/horses/{horse}/yard", new { yardId = yard, from = "2026-11-01T00:00:00Z" });
        Assert.True(moved.IsSuccessStatusCode, await moved.Content.ReadAsStringAsync());
    }

    /// <summary>Sends the page's own form as it stands.</summary>
    private static async Task<string> Posted(Browser browser, string address, string page, params (string Name, string Value)[] typed)
    {
        var form = page.Split("<form").Single(f => f.Contains("name=\"_handler\"", StringComparison.Ordinal)).Split("</form>")[0];
        var fields = Inputs()
            .Matches(form)
            .Where(i => !i.Value.Contains("checkbox", StringComparison.Ordinal) || i.Value.Contains(" checked", StringComparison.Ordinal))
            .Select(i => new KeyValuePair<string, string>(Of(i.Value, "name"), Of(i.Value, "value")))
            .Where(f => f.Key.Length > 0 && typed.All(t => t.Name != f.Key));
        var chosen = Selects()
            .Matches(form)
            .Select(s => new KeyValuePair<string, string>(
                s.Groups["name"].Value,
                Regex
                    .Match(
                        s.Value,
                        "<option value=\"(?<v>[^\"]*)\" selected",
                        default,
                        System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
                    )
                    .Groups["v"]
                    .Value
            ));
        var answer = await browser.Client.PostAsync(
            address,
            new FormUrlEncodedContent(typed.Select(f => new KeyValuePair<string, string>(f.Name, f.Value)).Concat(fields).Concat(chosen))
        );
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
    }

    private static string Of(string tag, string attribute) =>
        WebUtility.HtmlDecode(
            Regex
                .Match(tag, $" {attribute}=\"(?<is>[^\"]*)\"", default, System.Text.RegularExpressions.Regex.InfiniteMatchTimeout)
                .Groups["is"]
                .Value
        );

    [GeneratedRegex("href=\"(?<to>/plan/day[^\"]*)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex DayLinks();

    [GeneratedRegex(@"http\S+/letter/[\w-]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Links();

    [GeneratedRegex("name=\"to\" value=\"(?<at>[^\"]*)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Times();

    [GeneratedRegex("<input[^>]*>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Inputs();

    [GeneratedRegex("<select[^>]*name=\"(?<name>[^\"]*)\".*?</select>", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Selects();
}
