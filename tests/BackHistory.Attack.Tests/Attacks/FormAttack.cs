using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Hostile;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>
/// Every form of every page, sent with the token that the page carries and with one field holding what nobody types; the page's own
/// address with parameters that are none.
/// </summary>
internal static partial class FormAttack
{
    /// <summary>Pages as the address asks for them; the rest are the service's own list.</summary>
    private static readonly string[] Asked =
    [
        "/?sort=x&after=x&state=x",
        "/find?q=horse",
        "/horses/@horse/care-roles/end?person=@person&role=Rider",
        "/horses/@horse/merge?into=@other",
        "/horses/@horse/visits/@visit/give?to=@other",
        "/saddles/@saddle/work/new?horse=@horse&kind=altered",
        "/saddles/@saddle/work/new?horse=@horse&kind=flocked",
    ];

    /// <summary>Every page that somebody who is signed in can go to. Those that a link alone opens are bent elsewhere
    /// (<see cref="LinkAttack"/>).</summary>
    internal static IReadOnlyList<string> Pages(AttackedService service) =>
        [
            .. service
                .Services.GetRequiredService<IEnumerable<EndpointDataSource>>()
                .SelectMany(s => s.Endpoints)
                .OfType<RouteEndpoint>()
                .Where(e => e.Metadata.GetMetadata<ComponentTypeMetadata>() is not null)
                .Select(e => Place().Replace("/" + e.RoutePattern.RawText!.TrimStart('/'), p => Named(e, p.Groups["name"].Value)))
                .Where(p => !p.Contains('{', StringComparison.Ordinal))
                .Concat(Asked)
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal),
        ];

    private static string Named(RouteEndpoint page, string place)
    {
        var ofSaddle = page.RoutePattern.RawText!.TrimStart('/').StartsWith("saddles", StringComparison.Ordinal);
        return place switch
        {
            "HorseId" => "@horse",
            "VisitId" => "@visit",
            "EntryId" => "@entry",
            "NoteId" => "@note",
            "SaddleId" => "@saddle",
            "WorkId" => ofSaddle ? "@work" : "@span",
            "FileId" => ofSaddle ? "@saddle-file" : "@file",
            "TrialId" => "@trial",
            "PadId" => "@pad",
            "PersonId" => "@person",
            "YardId" => "@yard",
            "StudyId" => "@guided",
            "Kind" => "@letter-kind",
            "Language" => "@language",
            "ReminderId" => "@reminder",
            "WebhookId" => "@webhook",
            "FeedId" => "@feed",
            // Opened by a link or a grant alone.
            "Token" or "GrantId" => "{" + place,
            _ => throw new InvalidOperationException($"{page.RoutePattern.RawText} has a place that nothing fills: {place}"),
        };
    }

    /// <summary>What would end the attacker's own session is left alone: another test signs out.</summary>
    private static readonly string[] LeftAlone =
    [
        "/sign-out",
        "/me/sessions/end",
        "/me/sessions/end-others",
        "/me/password",
        "/me/practice",
        // A wrong password counts towards the lock of the account.
        "/sign-in/again",
    ];

    public static async Task Run(AttackedService service, int each, Func<bool>? until = null)
    {
        var honest = new HonestWork(service);
        foreach (var page in Pages(service))
        {
            if (until?.Invoke() == true)
                break;
            var side = service.Ledger.Chance.Next(2) == 0 ? Side.North : Side.South;
            var of = service.Of(side);
            await of.Id("horse");
            await of.Id("visit");
            var address = await of.Filled(page);
            await service.Followed();
            using var browser = await service.SignIn(side);
            await Parameters(service, browser, address, each);
            var html = (await browser.Look(address)).Text;
            foreach (Match form in Forms().Matches(html).DistinctBy(Shape))
                await Send(service, browser, side, address, form, each);
            await Looks.At(service, side, page);
            of.Forget();
            await honest.GoesOn($"the forms of {page}");
        }
    }

    private static async Task Parameters(AttackedService service, Attacker browser, string address, int each)
    {
        var names = new[]
        {
            "after",
            "sort",
            "state",
            "month",
            "visit",
            "station",
            "measure",
            "page",
            "q",
            "yard",
            "refused",
            "done",
            "on",
            "at",
            "into",
            "saved",
            "person",
            "role",
        };
        for (var n = 0; n < each * 2; n++)
        {
            var name = names[service.Ledger.Chance.Next(names.Length)];
            var values = name == "after" ? HostileText.Cursors : HostileText.Escaped;
            var value = values[service.Ledger.Chance.Next(values.Count)].Replace("@foreign", "x", StringComparison.Ordinal);
            await browser.Try(
                "pages",
                HttpMethod.Get,
                $"{address}{(address.Contains('?', StringComparison.Ordinal) ? '&' : '?')}{name}={value}"
            );
        }
    }

    private static async Task Send(AttackedService service, Attacker browser, Side side, string address, Match form, int each)
    {
        var action = Of(form.Groups["tag"].Value, "action") is { Length: > 0 } named ? named : address;
        if (LeftAlone.Contains(action))
            return;
        var fields = Inputs()
            .Matches(form.Value)
            .Select(i => (Name: Of(i.Value, "name"), Value: Of(i.Value, "value") ?? ""))
            .Where(f => f.Name is { Length: > 0 })
            .Select(f => (Name: f.Name!, f.Value))
            .DistinctBy(f => f.Name)
            .ToList();
        var inParts = form.Groups["tag"].Value.Contains("multipart", StringComparison.OrdinalIgnoreCase);
        foreach (var (name, _) in fields.Where(f => f.Name is not ("__RequestVerificationToken" or "_handler")))
        {
            for (var n = 0; n < each; n++)
            {
                var value = await service.WithForeign(side, HostileText.Typed[service.Ledger.Chance.Next(HostileText.Typed.Count)]);
                var sent = fields.Select(f => f.Name == name ? (f.Name, value) : f).ToList();
                await browser.Try("forms", HttpMethod.Post, action, inParts ? Parts(sent) : Escaped(sent));
            }
        }

        // Without its token, and without its fields.
        await browser.Try("forms", HttpMethod.Post, action, Escaped([.. fields.Where(f => f.Name != "__RequestVerificationToken")]));
        await browser.Try("forms", HttpMethod.Post, action, Escaped([.. fields.Where(f => f.Name == "__RequestVerificationToken")]));
    }

    private static HttpContent Escaped(IReadOnlyList<(string Name, string Value)> fields) =>
        Attacker.Bytes(
            Encoding.UTF8.GetBytes(string.Join('&', fields.Select(f => $"{WebUtility.UrlEncode(f.Name)}={WebUtility.UrlEncode(f.Value)}"))),
            "application/x-www-form-urlencoded"
        );

    private static MultipartFormDataContent Parts(IReadOnlyList<(string Name, string Value)> fields)
    {
        var parts = new MultipartFormDataContent();
        foreach (var (name, value) in fields)
            parts.Add(new StringContent(value), name);
        return parts;
    }

    /// <summary>Two forms to one address with the same fields are one form that stands there twice.</summary>
    private static string Shape(Match form) =>
        Of(form.Groups["tag"].Value, "action") + string.Join(',', Inputs().Matches(form.Value).Select(i => Of(i.Value, "name")));

    private static string? Of(string tag, string attribute) =>
        Regex.Match(tag, $"\\b{attribute}=\"(?<v>[^\"]*)\"", RegexOptions.None, Regex.InfiniteMatchTimeout) is { Success: true } m
            ? WebUtility.HtmlDecode(m.Groups["v"].Value)
            : null;

    [GeneratedRegex(
        "(?<tag><form[^>]*method=\"post\"[^>]*>).*?</form>",
        RegexOptions.Singleline | RegexOptions.IgnoreCase,
        Timeout.Infinite
    )]
    private static partial Regex Forms();

    [GeneratedRegex(@"\{(?<name>\w+)[^}]*\}", RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant, Timeout.Infinite)]
    private static partial Regex Place();

    [GeneratedRegex("<(?:input|select|textarea|button)[^>]*>", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Inputs();
}
