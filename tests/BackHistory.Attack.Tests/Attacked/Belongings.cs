using System.Globalization;
using System.Text.RegularExpressions;
using BackHistory.Attack.Tests.Requests;
using BackHistory.History.Reminders;

namespace BackHistory.Attack.Tests.Attacked;

/// <summary>
/// What a practice has to be attacked: made by honest requests when it is first asked for, made anew when an attack has used it up.
/// </summary>
internal sealed partial class Belongings(AttackedService service, Side side, Attacker manager)
{
    private readonly Dictionary<string, string> _ids = new(StringComparer.Ordinal);
    private int _fresh;

    /// <summary>Fields of an answer that hold the id of what was made.</summary>
    private static readonly string[] Made = ["made", "workId", "visitId", "id"];

    /// <summary>By what operation each comes to be.</summary>
    private static readonly Dictionary<string, string> Makers = new(StringComparer.Ordinal)
    {
        ["person"] = "POST /api/people",
        ["heir"] = "POST /api/people",
        ["yard"] = "POST /api/yards",
        ["paddock"] = "POST /api/yards",
        ["horse"] = "POST /api/horses",
        ["other"] = "POST /api/horses",
        ["visit"] = "POST /api/horses/{horseId}/visits",
        ["second"] = "POST /api/horses/{horseId}/visits",
        ["saddle"] = "POST /api/saddles",
        ["work"] = "POST /api/saddles/{saddleId}/work",
        ["note"] = "POST /api/horses/{horseId}/care",
        ["span"] = "POST /api/horses/{horseId}/work",
        ["grant"] = "POST /api/horses/{horseId}/sharing/grants",
        ["link"] = "POST /api/horses/{horseId}/sharing/links",
        ["file"] = "POST /api/horses/{horseId}/files",
        ["saddle-file"] = "POST /api/saddles/{saddleId}/files",
        ["trial"] = "POST /api/saddles/{saddleId}/trials",
        ["pad"] = "POST /api/saddles/{saddleId}/pads",
        ["study"] = "POST /api/practice/studies",
        ["guided"] = "POST /api/practice/studies/guided",
        ["feed"] = "POST /api/calendar-feeds",
        ["webhook"] = "POST /api/webhooks",
        ["import"] = "POST /api/imports",
        ["run"] = "POST /api/reminder-rules/dry-runs",
    };

    /// <summary>Everything is made anew when it is next asked for.</summary>
    public void Forget() => _ids.Clear();

    /// <summary>What is there by now, to be asked for by the other practice.</summary>
    public IReadOnlyDictionary<string, string> There => _ids;

    /// <summary>An address of this practice's.</summary>
    public async Task<string> Address(Operation operation)
    {
        var path = operation.Path;
        foreach (Match place in Places().Matches(operation.Path))
            path = path.Replace(place.Value, await Id(Place(operation, place.Groups["name"].Value)), StringComparison.Ordinal);
        return path;
    }

    /// <summary>Parameters as an honest program gives them.</summary>
    public async Task<IReadOnlyList<(string Name, string Value)>> Query(Operation operation)
    {
        var all = new List<(string, string)>();
        foreach (var (name, _) in operation.Query)
        {
            if (HonestRequests.QueryOf(operation, name) is { } value)
                all.Add((name, Uri.EscapeDataString(await Filled(value))));
        }

        return all;
    }

    /// <summary>A body with what its <c>@names</c> stand for.</summary>
    public async Task<string> Filled(string text)
    {
        foreach (var name in Names().Matches(text).Select(m => m.Groups["name"].Value).Distinct().OrderByDescending(n => n.Length))
            text = text.Replace($"@{name}", await Id(name), StringComparison.Ordinal);
        return text;
    }

    /// <summary>What stands at a place of an address.</summary>
    public static string Place(Operation operation, string name) =>
        name switch
        {
            "horseId" => "horse",
            "visitId" => "visit",
            "entryId" => "entry",
            "noteId" => "note",
            "saddleId" => "saddle",
            "workId" => operation.Path.StartsWith("/api/horses", StringComparison.Ordinal) ? "span" : "work",
            "fileId" => operation.Path.StartsWith("/api/horses", StringComparison.Ordinal) ? "file" : "saddle-file",
            "personId" => "person",
            "yardId" => "yard",
            "trialId" => "trial",
            "padId" => "pad",
            "reminderId" => operation.Path.EndsWith("cancel-booking", StringComparison.Ordinal) ? "booked"
            : operation.Path.EndsWith("vet-cleared", StringComparison.Ordinal) ? "caution"
            : "reminder",
            "runId" => "run",
            "feedId" => "feed",
            "studyId" => operation.Path.EndsWith("/withdraw", StringComparison.Ordinal) ? "study" : "guided",
            "importId" => "import",
            "webhookId" => "webhook",
            "grantId" => "grant",
            "linkId" => "link",
            "key" => "gauge",
            "kind" => operation.Path.Contains("letter-templates", StringComparison.Ordinal) ? "letter-kind" : "tracing-kind",
            "format" => operation.Path.Contains("mesh", StringComparison.Ordinal) ? "obj" : "svg",
            "form" => operation.Path.Contains("compare/back", StringComparison.Ordinal) ? "obj" : "svg",
            _ => name,
        };

    /// <summary>The id, or the word, that a name stands for.</summary>
    public async Task<string> Id(string name)
    {
        switch (name)
        {
            case "word":
                return side.Canary;
            case "fresh":
                return string.Create(CultureInfo.InvariantCulture, $"{side.Practice}-{service.Ledger.Chance.Next()}-{++_fresh}");
            case "foreign":
                return await service.Foreign(side);
            case "svg" or "obj":
                return name;
            case "letter-kind":
                return "owner-refit";
            case "tracing-kind":
                return "cross-section";
            case "language":
                return "en";
            case "version":
                return "1";
            case "documentName":
                return "v1";
            case "keyId":
                return new string('0', 64);
            case "template":
                return await Read("/api/letter-templates/owner-refit/en", "source");
            case "thresholds":
                return await Read("/api/thresholds", "rules");
            case "reminder-rules":
                return await Read("/api/reminder-rules", "rules");
        }

        if (!_ids.TryGetValue(name, out var id))
        {
            id = await Make(name);
            _ids[name] = id;
        }

        return id;
    }

    private async Task<string> Make(string name)
    {
        if (name is "entry")
        {
            await Id("visit");
            return _ids[name];
        }

        if (name is "saddled")
        {
            await Id("work");
            return await Id("horse");
        }

        if (name is "fitter" or "vet")
            return (await service.Person(side, name)).ToString();
        if (name is "rider")
        {
            var role = service.Operation("POST /api/horses/{horseId}/care-roles");
            await Honest(name, role, await Address(role));
            return await Id("person");
        }

        if (name is "gauge" or "bench")
        {
            var operation = service.Operation("PUT /api/practice/gauges/{key}");
            await Honest(name, operation, "/api/practice/gauges/bench");
            return "bench";
        }

        if (name is "reminder" or "booked" or "caution")
        {
            var rule = name is "caution" ? ReminderRule.VetCaution : ReminderRule.CheckDue;
            var reminder = (await service.Raise(side, Guid.Parse(await Id("horse")), rule)).ToString();
            if (name is "booked")
            {
                var book = service.Operation("POST /api/reminders/{reminderId}/book");
                await Honest(name, book, $"/api/reminders/{reminder}/book");
            }

            return reminder;
        }

        var maker = service.Operation(Makers[name]);
        Answer answer;
        try
        {
            answer = await Honest(name, maker, await Address(maker));
        }
        catch (InvalidOperationException)
        {
            // An attack that was let through may have made it already: everything anew.
            Forget();
            answer = await Honest(name, maker, await Address(maker));
        }

        var json = answer.Json() ?? throw new InvalidOperationException($"{name}: {answer.Text}");
        if (name is "visit")
            _ids["entry"] = (string)json["entries"]![0]!["entryId"]!;
        return Made.Select(f => (string?)json[f]).FirstOrDefault(v => v is not null)
            ?? throw new InvalidOperationException($"{name}: {answer.Text}");
    }

    private async Task<Answer> Honest(string name, Operation maker, string path)
    {
        var query = string.Join('&', (await Query(maker)).Select(q => $"{q.Name}={q.Value}"));
        var body = HonestRequests.BodiesOf(maker)[0];
        var content = body is null ? null : Attacker.Bytes(System.Text.Encoding.UTF8.GetBytes(await Filled(body)), maker.Body!);
        var answer = await manager.Honest(maker.Method, query.Length == 0 ? path : $"{path}?{query}", content);
        return answer.Good ? answer : throw new InvalidOperationException($"{name} of {side.Practice}: {answer.Status} {answer.Text}");
    }

    private async Task<string> Read(string path, string part)
    {
        var node = (await manager.Look(path)).Json()![part]!;
        return node.ToJsonString();
    }

    [GeneratedRegex(@"\{(?<name>\w+)\}", RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant, Timeout.Infinite)]
    private static partial Regex Places();

    [GeneratedRegex("@(?<name>[a-z]+(-[a-z]+)*)", RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant, Timeout.Infinite)]
    private static partial Regex Names();
}
