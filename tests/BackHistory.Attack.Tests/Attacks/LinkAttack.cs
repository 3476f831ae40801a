using System.Text;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Hostile;
using BackHistory.History.Reminders;
using BackHistory.Service.Reminders;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Links that somebody holds: of a shared horse, of a calendar, of a letter. Bent, cut off, taken from one door to another; and what their
/// holder may send, with what should not stand there.
/// </summary>
internal static class LinkAttack
{
    private static readonly string[] Doors =
    [
        "/look/{0}",
        "/look/{0}/chart.svg?measure=slope-left",
        "/look/{0}/record.pdf",
        "/calendar/{0}",
        "/letter/{0}",
        "/welcome/{0}",
        "/new-password/{0}",
        "/confirm-address/{0}",
    ];

    private static readonly string[] Posted =
    [
        "/look/{0}/open",
        "/look/{0}/comment",
        "/look/{0}/answer",
        "/letter/{0}",
        "/letter/{0}/day",
        "/letter/{0}/cancel",
        "/welcome/{0}",
        "/new-password/{0}",
        "/confirm-address/{0}",
    ];

    public static async Task Run(AttackedService service, int each, Func<bool>? until = null)
    {
        var honest = new HonestWork(service);
        foreach (var side in new[] { Side.North, Side.South })
        {
            var tokens = await Tokens(service, side);
            using var holder = service.Holder("somebody who holds a link", side);
            foreach (var (what, token) in tokens)
            {
                if (until?.Invoke() == true)
                    return;
                foreach (var bent in Bent(service, token).Prepend(token))
                {
                    foreach (var door in Doors)
                        await holder.Try($"links", HttpMethod.Get, At(door, bent));
                    foreach (var door in Posted)
                        await holder.Try("links", HttpMethod.Post, At(door, bent), Form(service, "words", "key", "answer", "password"));
                }

                await Inside(service, holder, what, token, each);
            }

            await honest.GoesOn($"links of {side.Practice}");
        }
    }

    /// <summary>The token itself, with every field and every parameter that its door takes.</summary>
    private static async Task Inside(AttackedService service, Attacker holder, string what, string token, int each)
    {
        for (var n = 0; n < each * 10; n++)
        {
            var value = HostileText
                .Escaped[service.Ledger.Chance.Next(HostileText.Escaped.Count)]
                .Replace("@foreign", "x", StringComparison.Ordinal);
            var name = new[] { "measure", "station", "theme", "width", "height", "refused", "done" }[service.Ledger.Chance.Next(7)];
            await holder.Try("links", HttpMethod.Get, $"/look/{token}/chart.svg?measure=slope-left&{name}={value}");
            await holder.Try("links", HttpMethod.Get, $"/{(what == "letter" ? "letter" : "look")}/{token}?{name}={value}");
            if (what == "letter")
                await holder.Try("links", HttpMethod.Post, $"/letter/{token}", Form(service, "words", "List-Unsubscribe", "answer"));
        }
    }

    private static HttpContent Form(AttackedService service, params string[] names)
    {
        var text = new StringBuilder();
        foreach (var name in names)
        {
            var value = HostileText.Escaped[service.Ledger.Chance.Next(HostileText.Escaped.Count)];
            text.Append(text.Length == 0 ? "" : "&")
                .Append(name)
                .Append('=')
                .Append(value.Replace("@foreign", "x", StringComparison.Ordinal));
        }

        return Attacker.Bytes(Encoding.UTF8.GetBytes(text.ToString()), "application/x-www-form-urlencoded");
    }

    private static IEnumerable<string> Bent(AttackedService service, string token)
    {
        var chance = service.Ledger.Chance;
        yield return token[..(token.Length / 2)];
        yield return token[..^1];
        yield return token + "A";
        yield return token + token;
        yield return new string([.. token.Reverse()]);
        yield return "CfDJ8";
        yield return "%00";
        yield return "%ED%A0%80";
        yield return new string('A', 8000);
        for (var n = 0; n < 3; n++)
        {
            var letters = token.ToCharArray();
            letters[chance.Next(letters.Length)] = (char)('A' + chance.Next(26));
            yield return new string(letters);
        }
    }

    private static async Task<IReadOnlyList<(string What, string Token)>> Tokens(AttackedService service, Side side)
    {
        var of = service.Of(side);
        var horse = Guid.Parse(await of.Id("horse"));
        var manager = service.Manager(side);
        var found = new List<(string, string)>();
        foreach (
            var (what, name) in new[] { ("look", "POST /api/horses/{horseId}/sharing/links"), ("calendar", "POST /api/calendar-feeds") }
        )
        {
            var operation = service.Operation(name);
            var body = Attacker.Json(await of.Filled(Requests.HonestRequests.BodiesOf(operation)[0]!));
            var made = await manager.Honest(HttpMethod.Post, await of.Address(operation), body);
            found.Add((what, Last((string)made.Json()!["url"]!)));
        }

        var reminder = await service.Raise(side, horse, ReminderRule.CheckDue);
        var links = service.Services.GetRequiredService<AnswerLinks>();
        found.Add(
            (
                "letter",
                Last(links.Answer(side.Practice, reminder, History.Reminders.Answer.Later, Guid.Parse(await service.Of(side).Id("person"))))
            )
        );
        return found;
    }

    private static string Last(string url) => new Uri(url, UriKind.RelativeOrAbsolute).ToString().Split('/')[^1].Split('?')[0];

    private static string At(string door, string token) => door.Replace("{0}", token, StringComparison.Ordinal);
}
