using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace BackHistory.Service.Tests.Archives;

/// <summary>Archives that no practice ever wrote: each is refused before the first of it is kept, or taken in whole.</summary>
public sealed class BrokenArchiveTests(ArchiveOfEverything source) : IClassFixture<ArchiveOfEverything>
{
    private const string Events = "events.jsonl";
    private const string People = "documents/people.jsonl";

    private const string At = "\"at\":\"2026-05-01T10:00:00+00:00\"";

    /// <summary>What is wrong with an archive, by name; the words that say so, and where.</summary>
    private static readonly Dictionary<string, (Func<ArchiveParts, ArchiveParts> Spoil, string Said)> Spoilt = new(StringComparer.Ordinal)
    {
        ["a line is missing"] = (a => a.With(Events, a.Lines(Events).Where((_, i) => i != 4)), "On line 5 of events.jsonl"),
        ["a line is missing and the rest counted anew"] = (
            a => a.Edit(Events, all => all.Where((_, i) => i != FirstOf(all, "visit_recorded"))),
            "of which"
        ),
        ["a line stands there twice"] = (a => a.Edit(Events, all => all.SelectMany(l => Is(l, "weighed") ? [l, l] : new[] { l })), "twice"),
        ["a line stands there twice under another id"] = (
            a => a.Edit(Events, all => all.SelectMany(l => Is(l, "weighed") ? [l, Renamed(l)] : new[] { l })),
            "version"
        ),
        ["a horse is registered twice"] = (
            a => a.Edit(Events, all => all.SelectMany(l => Is(l, "horse_registered") ? [l, Renamed(l)] : new[] { l })),
            "version 1 of the horse"
        ),
        ["a horse begins anew under its next version"] = (
            a => a.Edit(Events, all => all.SelectMany(l => Is(l, "horse_registered") ? [l, Next(l)] : new[] { l }).Take(12)),
            "begins a second time"
        ),
        ["two lines are in each other's place"] = (a => a.With(Events, Swapped(a.Lines(Events))), "out of order"),
        ["versions have a gap"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "visit_recorded") ? Set(l, "version", 77) : l)),
            "it is version 77"
        ),
        ["a type that no release knows"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "weighed") ? Set(l, "type", "weighed_9") : l)),
            "no event 'weighed_9'"
        ),
        ["an event in a history of another kind"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "weighed") ? Set(l, "of", "saddle") : l)),
            "says 'saddle'"
        ),
        ["a history that does not begin"] = (
            a => a.Edit(Events, all => all.Where(l => !Is(l, "saddle_registered")).Select(FromOne("saddle"))),
            "begins with it"
        ),
        ["a saddle on a horse that is not there"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "saddle_set") ? InData(l, "horseId", Guid.NewGuid().ToString()) : l)),
            "of which no line before it tells"
        ),
        ["an entry of a visit that is not there"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "weighed") ? InData(l, "visitId", Guid.NewGuid().ToString()) : l)),
            "of the visit"
        ),
        ["an event without a part"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "horse_registered") ? InData(l, "name", null) : l)),
            "'name' is missing"
        ),
        ["a value that is in no list"] = (
            a => a.Edit(Events, all => all.Select(l => Is(l, "care_noted") ? InData(l, "kind", 99) : l)),
            "which is in no list"
        ),
        ["its end is cut off"] = (a => a.With(Events, a.Lines(Events)[..^3]), "manifest.json says that events.jsonl has"),
        ["a line is cut off"] = (a => a.With(Events, [.. a.Lines(Events)[..^1], a.Lines(Events)[^1][..40]]), "cannot be read"),
        ["people are missing"] = (a => a.Without(People), "manifest.json says that documents/people.jsonl has"),
        ["a person stands there twice"] = (a => a.Uncounted().With(People, [.. a.Lines(People), a.Lines(People)[0]]), "stands there twice"),
        ["a comment on a horse that is not there"] = (
            a => a.Uncounted().With("documents/comments.jsonl", [Comment(Guid.NewGuid())]),
            "On line 1 of documents/comments.jsonl: no event tells of the horse"
        ),
        ["a finding on a horse that is not there"] = (
            a => a.Uncounted().With("documents/findings.jsonl", [$$"""{"id":"{{Guid.NewGuid()}}","saddles":[]}"""]),
            "no event tells of the horse"
        ),
        ["a note that nobody wrote"] = (
            a =>
                a.Uncounted()
                    .With(
                        "documents/notes.jsonl",
                        [$$"""{"id":"{{Guid.NewGuid()}}","words":"x","about":[],"by":"{{Guid.NewGuid()}}",{{At}}}"""]
                    ),
            "no event names this note"
        ),
        ["a letter that was never owed"] = (
            a =>
                a.Uncounted()
                    .With(
                        "documents/letters.jsonl",
                        [
                            $$"""{"id":"{{Guid.NewGuid()}}","toName":"A","toAddress":"a@b.invalid","subject":"s","html":"h","text":"t","""
                                + """ "pictures":[],"stopUrl":"u","composedAt":"2026-05-01T10:00:00+00:00"}""",
                        ]
                    ),
            "no event says that this letter was owed"
        ),
        ["an audit of nothing"] = (
            a => a.Edit("documents/audit.jsonl", all => all.Select(l => Set(l, "what", "never-heard-of"))),
            "nothing that an audit says"
        ),
        ["an attachment that was changed"] = (
            a => a.With(a.Names.First(n => n.StartsWith("attachments/", StringComparison.Ordinal)), "%PDF-1.7 another"u8.ToArray()),
            "is not the file that its name says"
        ),
        ["an attachment that nothing names"] = (
            a => a.With($"attachments/{History.Files.FileBytes.HashOf("%PDF-1.7 more"u8)}", "%PDF-1.7 more"u8.ToArray()),
            "No event names attachments/"
        ),
    };

    public static TheoryData<string> Ways => [.. Spoilt.Keys];

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task An_archive_that_is_not_whole_is_refused_with_its_line_before_the_first_of_it_is_kept(string way)
    {
        var (spoil, said) = Spoilt[way];
        await Refused(spoil(source.Parts.Copy()), said);
    }

    /// <summary>A person as no form would take them: what changes, and what is said.</summary>
    public static TheoryData<string, string, string> Unlikely =>
        new()
        {
            { "email", "\"Anna <anna@example.org>\"", "no e-mail address" },
            { "email", "\"anna@example.org, ben@example.org\"", "no e-mail address" },
            { "name", "\"\\u200b\\u2060\"", "needs a name" },
            { "name", $"\"{new string('x', 121)}\"", "needs a name" },
            { "name", "null", "'name' is missing" },
            { "phone", $"\"{new string('1', 41)}\"", "telephone number" },
            { "role", "99", "in no list" },
            { "role", "\"emperor\"", "cannot be read" },
            { "language", "\"tlh\"", "written to in" },
            { "timeZone", "\"Mars/Olympus\"", "no IANA time zone" },
            { "version", "9223372036854775807", "9223372036854775807" },
            { "version", "0", "no version" },
            { "version", "1e300", "cannot be read" },
            { "stopped", "[99]", "in no list" },
            { "stopped", "null", "'stopped' is missing" },
            { "id", "\"00000000-0000-0000-0000-000000000000\"", "has no id" },
        };

    [Theory]
    [MemberData(nameof(Unlikely))]
    public async Task A_person_of_an_archive_is_judged_as_one_who_is_typed_in(string part, string json, string said)
    {
        var parts = source.Parts.Copy();
        var lines = parts.Lines(People);
        // The text itself, for JSON has one way to write these and the tests' writer another.
        var person = JsonNode.Parse(lines[1])!.AsObject();
        person[part] = "@@";
        lines[1] = person.ToJsonString().Replace("\"@@\"", json, StringComparison.Ordinal);
        await Refused(parts.With(People, lines), said, "ine 2 of documents/people.jsonl");
    }

    [Theory]
    [InlineData("\\u200b")]
    [InlineData("")]
    public async Task A_yard_of_an_archive_is_judged_as_one_that_is_typed_in(string name)
    {
        var yard = $$"""{"id":"{{Guid.NewGuid()}}","name":"{{name}}","version":1}""";
        await Refused(source.Parts.Copy().Uncounted().With("documents/yards.jsonl", [yard]), "A yard needs a name", "On line 1");
    }

    /// <summary>Some of an archive, spoilt at random: whatever becomes of it, nothing breaks and nothing is half.</summary>
    [Fact]
    public async Task Two_hundred_archives_spoilt_at_random_are_each_refused_whole_or_taken_in_whole_and_every_read_model_goes_on()
    {
        const int Seed = 20261129;
        const int Tries = 200;
        var random = new Random(Seed);
        var (refused, taken) = (0, 0);
        var to = await source.Empty();
        var before = await source.KeptBy(to);
        for (var i = 0; i < Tries; i++)
        {
            var parts = source.Parts.Copy();
            var did = SpoilAtRandom(parts, random);
            using var answer = await source.Send(to, parts.Zip());
            var where = $"seed {Seed}, try {i}: {did}, answered {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}";
            if (answer.StatusCode == HttpStatusCode.NoContent)
            {
                taken++;
                Assert.True(parts.Lines(Events).Count <= await source.EventsOf(to), where);
                await source.Follows(where);
                to = await source.Empty();
                before = await source.KeptBy(to);
                continue;
            }

            refused++;
            Assert.True(answer.StatusCode == HttpStatusCode.UnprocessableEntity, where);
            Assert.True((await answer.Content.ReadAsStringAsync()).Contains("Nothing was taken in", StringComparison.Ordinal), where);
            var after = await source.KeptBy(to);
            Assert.True(before == after, $"{where}: {string.Join("; ", after.Split('\n').Except(before.Split('\n')))}");
        }

        await source.Follows("in the end");
        TestContext.Current.TestOutputHelper?.WriteLine($"seed {Seed}: {refused} refused, {taken} taken in whole");
        Assert.True(refused > Tries / 2, $"{refused} refused, {taken} taken");
        using var whole = await source.Send(to, source.Parts.Zip());
        Assert.Equal(HttpStatusCode.NoContent, whole.StatusCode);
    }

    [Fact]
    public async Task One_horses_archive_is_taken_in_though_its_saddle_was_on_another_too()
    {
        var to = await source.Empty();
        using var answer = await source.Send(to, await source.OfOneHorse());
        Assert.True(answer.StatusCode == HttpStatusCode.NoContent, await answer.Content.ReadAsStringAsync());
        await source.Follows("one horse");
        using var client = source.Host.Client(to);
        Assert.Single((await client.GetFromJson("/api/horses")).GetProperty("items").EnumerateArray());
    }

    private async Task Refused(ArchiveParts parts, params string[] said)
    {
        var to = await source.ForRefused();
        var before = await source.KeptBy(to);

        using var answer = await source.Send(to, parts.Zip());

        var body = await answer.Content.ReadAsStringAsync();
        if (answer.StatusCode != HttpStatusCode.UnprocessableEntity)
            source.GotIn();
        Assert.True(answer.StatusCode == HttpStatusCode.UnprocessableEntity, $"{(int)answer.StatusCode} {body}");
        var detail = JsonDocument.Parse(body).RootElement.GetProperty("detail").GetString()!;
        foreach (var words in said)
            Assert.Contains(words, detail, StringComparison.Ordinal);
        Assert.Contains("Nothing was taken in", detail, StringComparison.Ordinal);
        Assert.Equal(before, await source.KeptBy(to));
        await source.Follows(body);
    }

    private static string SpoilAtRandom(ArchiveParts parts, Random random)
    {
        // As an earlier release wrote it, there are no counts that would tell.
        if (random.Next(4) > 0)
            parts.Uncounted();
        var of = parts.Names.Where(n => n.EndsWith(".jsonl", StringComparison.Ordinal) && parts.Lines(n).Count > 0).ToList();
        var name = random.Next(3) > 0 ? Events : of[random.Next(of.Count)];
        var lines = parts.Lines(name);
        var (at, other) = (random.Next(lines.Count), random.Next(lines.Count));
        switch (random.Next(9))
        {
            case 0:
                parts.With(name, lines.Where((_, i) => i != at));
                return $"{name}: line {at + 1} is gone";
            case 1:
                parts.Edit(name, all => all.Where((_, i) => i != at));
                return $"{name}: line {at + 1} is gone, counted anew";
            case 2:
                parts.Edit(name, all => all.SelectMany((l, i) => i == at ? [l, random.Next(2) > 0 ? l : Renamed(l)] : new[] { l }));
                return $"{name}: line {at + 1} is doubled";
            case 3:
                parts.Edit(
                    name,
                    all =>
                    {
                        (all[at], all[other]) = (all[other], all[at]);
                        return all;
                    }
                );
                return $"{name}: lines {at + 1} and {other + 1} are in each other's place";
            case 4:
                parts.With(name, lines.Take(at).Append(lines[at][..random.Next(lines[at].Length)]));
                return $"{name}: is cut off in line {at + 1}";
            case 5 when name == Events:
                var (key, value) = random.Next(4) switch
                {
                    0 => ("version", (JsonNode)random.Next(-1, 9)),
                    1 => ("stream", JsonNode.Parse(lines[other])!["stream"]!.DeepClone()),
                    2 => ("stream", Guid.NewGuid().ToString()),
                    _ => ("type", JsonNode.Parse(lines[other])!["type"]!.DeepClone()),
                };
                parts.Edit(name, all => all.Select((l, i) => i == at ? Set(l, key, value) : l));
                return $"{name}: {key} of line {at + 1} is {value}";
            default:
                var said = "";
                parts.Edit(name, all => all.Select((l, i) => i == at ? Spoil(l, random, out said) : l).ToList());
                return $"{name}: in line {at + 1} {said}";
        }
    }

    /// <summary>One value somewhere in a line is another.</summary>
    private static JsonObject Spoil(JsonObject line, Random random, out string said)
    {
        var copy = line.DeepClone().AsObject();
        var places = Places(copy).ToList();
        var (holder, name) = places[random.Next(places.Count)];
        JsonNode?[] values =
        [
            null,
            1e300,
            -1,
            long.MaxValue,
            99,
            "",
            "\u200b",
            new string('x', 5000),
            Guid.NewGuid().ToString(),
            Guid.Empty.ToString(),
            "0001-01-01T00:00:00Z",
            "9999-12-31T23:59:59Z",
            true,
            new JsonArray(),
            new JsonObject(),
            "Anna <anna@example.org>",
        ];
        var value = values[random.Next(values.Length)];
        holder[name] = value?.DeepClone();
        said = $"{name} is {value?.ToJsonString()[..Math.Min(40, value.ToJsonString().Length)] ?? "null"}";
        return copy;
    }

    private static IEnumerable<(JsonObject Holder, string Name)> Places(JsonNode? node) =>
        node switch
        {
            JsonObject o => o.Select(p => (o, p.Key)).Concat(o.SelectMany(p => Places(p.Value))),
            JsonArray a => a.Take(3).SelectMany(Places),
            _ => [],
        };

    private static bool Is(JsonObject line, string type) => line["type"]!.GetValue<string>() == type;

    private static int FirstOf(List<JsonObject> all, string type) => all.FindIndex(l => Is(l, type));

    private static JsonObject Set(JsonObject line, string name, JsonNode? value)
    {
        var copy = line.DeepClone().AsObject();
        copy[name] = value?.DeepClone();
        return copy;
    }

    private static JsonObject InData(JsonObject line, string name, JsonNode? value) =>
        Set(line, "data", Set(line["data"]!.AsObject(), name, value));

    private static JsonObject Renamed(JsonObject line) => Set(line, "id", Guid.NewGuid().ToString());

    private static JsonObject Next(JsonObject line) => Set(Renamed(line), "version", line["version"]!.GetValue<long>() + 1);

    private static List<string> Swapped(List<string> lines)
    {
        (lines[4], lines[5]) = (lines[5], lines[4]);
        return lines;
    }

    /// <summary>The versions of every history of a kind are one lower.</summary>
    private static Func<JsonObject, JsonObject> FromOne(string of) =>
        l => l["of"]!.GetValue<string>() == of ? Set(l, "version", l["version"]!.GetValue<long>() - 1) : l;

    private static string Comment(Guid horse) =>
        $$"""{"id":"{{Guid.NewGuid()}}","horseId":"{{horse}}","role":"owner","words":"x","at":"2026-05-01T10:00:00+00:00"}""";
}
