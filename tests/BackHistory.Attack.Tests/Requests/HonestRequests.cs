using System.Globalization;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Attack.Tests.Requests;

/// <summary>
/// What an honest program would send to each operation: every attack changes one thing of these. <c>@name</c> stands for an id of the
/// practice's (<see cref="Attacked.Belongings"/>), <c>@word</c> for its word.
/// </summary>
internal static class HonestRequests
{
    private const string Reason = """{"reason":"@word was wrong."}""";

    private static readonly string Section = $$$"""
        {"kind":"cross-section","station":"behind-shoulder","unit":"mm","yAxis":"up","noise":0.5,"level":[[-100,0],[100,0]],
        "midline":[0,0],"points":{{{Points(Backs.Section(45, 41))}}},"marks":{"muscle-junction-left":[-40,-20]},
        "calibration":{"width":800,"height":600,"known":[{"at":[1,1],"mm":[0,0]},{"at":[700,1],"mm":[280,0]},{"at":[1,500],
        "mm":[0,200]},{"at":[700,500],"mm":[280,200]}],"residual":0.2}}
        """;

    private static readonly string Topline = $$$"""
        {"kind":"topline","unit":"mm","yAxis":"up","tail":"right","noise":0.5,"points":{{{Points(Backs.Topline(20))}}},
        "marks":{"withers":[0,0],"behind-shoulder":[100,-8],"mid-back":[280,-12],"last-rib":[450,0]}}
        """;

    private static readonly string Entries = $$"""
        [{{Section}},{{Section}},{{Topline}},
        {"kind":"reading","measure":"read-slope-left","station":"behind-shoulder","value":44},
        {"kind":"condition","score":5.5},
        {"kind":"muscle","site":"back","score":2.5},
        {"kind":"weight","value":520,"unit":"kg"},
        {"kind":"girth","girth":190,"length":160,"unit":"cm"},
        {"kind":"height","withers":162,"croup":163,"unit":"cm"},
        {"kind":"note","words":"@word stood well."}]
        """;

    private const string Horse = """
        {"name":"Horse @word","sex":"mare","foaled":"2015-05-01","heightMm":1600,"breed":"@word breed","colour":"bay","ownerId":"@person",
        "yardId":"@yard","reason":null}
        """;

    private const string Care = """
        {"kind":"illness","from":"2026-05-01","until":null,"words":"@word coughed.","about":["@person"],"reason":null}
        """;

    private const string Person = """
        {"name":"Person @word @fresh","email":"@fresh\u0040people.invalid","phone":"+49 30 1","address":"@word Street 1","role":"owner",
        "language":"en","timeZone":"Europe/Berlin"}
        """;

    private const string Saddle = """
        {"label":"Saddle @word @fresh","tree":"@word tree","panel":"wool","girthing":"Y","gauge":"bench","ownerId":"@person","reason":null}
        """;

    private const string Work = """
        {"kind":"flocked","horseId":"@horse","visitId":"@visit","takenAt":"2026-06-12T12:00:00Z","by":null,"fresh":false,
        "done":[{"part":"tree","side":"left","from":"2","to":"3","gauge":"bench","proposed":"3","because":"@word"}],
        "flocking":{"material":"wool","whole":true},"onBoth":true}
        """;

    private const string Gauge = """
        {"name":"Gauge @word","measure":"slope","unit":"deg","reason":"@word",
        "marks":[{"name":"1","position":1,"value":30},{"name":"2","position":2,"value":35},{"name":"3","position":3,"value":42}]}
        """;

    private const string Table = "name,height,foaled\nImported @word,162,2015-05-01\nOther @word,158,2016-06-01\n";

    private const string Plan = """{"kind":"horses","columns":{"name":"name"},"dateFormat":null,"decimalMark":".","lengthUnit":"cm"}""";

    /// <summary>Bodies by operation; where several stand, each is attacked.</summary>
    private static readonly Dictionary<string, string[]> Bodies = new(StringComparer.Ordinal)
    {
        ["POST /api/horses"] = [Horse],
        ["PUT /api/horses/{horseId}"] = [Horse.Replace("\"reason\":null", "\"reason\":\"@word\"", StringComparison.Ordinal)],
        ["POST /api/horses/{horseId}/care"] = [Care],
        ["PUT /api/horses/{horseId}/care/{noteId}"] = [Care.Replace("\"reason\":null", "\"reason\":\"@word\"", StringComparison.Ordinal)],
        ["POST /api/horses/{horseId}/care/{noteId}/end"] = ["""{"until":"2026-06-30"}"""],
        ["POST /api/horses/{horseId}/care/{noteId}/withdraw"] = [Reason],
        ["PUT /api/horses/{horseId}/owner"] = ["""{"ownerId":"@heir","from":"2026-05-01T10:00:00Z"}"""],
        ["PUT /api/horses/{horseId}/yard"] = ["""{"yardId":"@paddock","from":"2026-05-01T10:00:00Z"}"""],
        ["POST /api/horses/{horseId}/care-roles"] = ["""{"personId":"@person","role":"rider","from":"2026-05-01T10:00:00Z"}"""],
        ["POST /api/horses/{horseId}/care-roles/end"] = ["""{"personId":"@rider","role":"rider","at":"2026-06-01T10:00:00Z"}"""],
        ["POST /api/horses/{horseId}/work"] =
        [
            """{"load":"light","discipline":"@word","hoursPerWeek":4.5,"from":"2026-05-01T10:00:00Z"}""",
        ],
        ["POST /api/horses/{horseId}/work/{workId}/withdraw"] = [Reason],
        ["POST /api/horses/{horseId}/withdraw"] = [Reason],
        ["POST /api/horses/{horseId}/merge"] = ["""{"intoId":"@other","reason":"One @word."}"""],
        ["POST /api/horses/{horseId}/visits/{visitId}/merge"] = ["""{"intoVisitId":"@second","reason":"One @word."}"""],
        ["POST /api/measure"] = [Section, Topline],
        ["POST /api/people/{personId}/erase"] = [""],
        ["POST /api/horses/{horseId}/files/{fileId}/remove"] = [Reason],
        ["POST /api/horses/{horseId}/visits"] =
        [
            $$"""
                {"id":null,"takenAt":"2026-06-12T10:00:00Z","by":null,"method":"flexible-curve @word",
                "conditions":{"levelGround":true,"stoodSquare":true,"head":"natural","riddenInLastTwoHours":false,"bodyWorkInLastDay":false,
                "holder":"@person","source":"on-site"},"entries":{{Entries}}}
                """,
        ],
        ["PUT /api/horses/{horseId}/visits/{visitId}"] =
        [
            """
                {"takenAt":"2026-06-12T11:00:00Z","by":null,"method":"flexible-curve @word","conditions":{"levelGround":false},
                "reason":"@word"}
                """,
        ],
        ["POST /api/horses/{horseId}/visits/{visitId}/withdraw"] = [Reason],
        ["POST /api/horses/{horseId}/visits/{visitId}/confirm"] = [""],
        ["POST /api/horses/{horseId}/visits/{visitId}/entries"] = [$$"""{"entries":{{Entries}}}"""],
        ["POST /api/horses/{horseId}/visits/{visitId}/tracings"] = [$"x_mm,y_mm\n{Rows(Backs.Section(45, 41), ",", "\n")}"],
        ["POST /api/horses/{horseId}/visits/{visitId}/entries/{entryId}/correct"] =
        [
            $$"""{"entry":{{Section}},"reason":"@word"}""",
            """{"entry":{"kind":"weight","value":530,"unit":"kg"},"reason":"@word"}""",
        ],
        ["POST /api/horses/{horseId}/visits/{visitId}/entries/{entryId}/withdraw"] = [Reason],
        ["POST /api/horses/{horseId}/visits/{visitId}/contours/{format}"] = [Drawing],
        ["POST /api/horses/{horseId}/visits/{visitId}/mesh/{format}"] = [Mesh()],
        ["POST /api/contours/{format}"] = [Drawing],
        ["POST /api/delivery-reports"] = ["From: the mailer\r\nSubject: Delivery status\r\n\r\nNothing that is known.\r\n"],
        ["POST /api/horses/{horseId}/files"] = ["%PDF-1.4\n% @word\n%%EOF\n"],
        ["POST /api/saddles/{saddleId}/files"] = ["%PDF-1.4\n% @word\n%%EOF\n"],
        ["POST /api/saddles"] = [Saddle],
        ["PUT /api/saddles/{saddleId}"] = [Saddle.Replace("\"reason\":null", "\"reason\":\"@word\"", StringComparison.Ordinal)],
        ["POST /api/saddles/{saddleId}/work"] = [Work],
        ["POST /api/saddles/{saddleId}/work/{workId}/withdraw"] = [Reason],
        ["POST /api/saddles/{saddleId}/work/{workId}/correct"] = [$$"""{"replacement":{{Work}},"reason":"@word"}"""],
        ["POST /api/saddles/{saddleId}/take-off"] = ["""{"horseId":"@saddled","reason":"@word","at":"2026-07-01T10:00:00Z"}"""],
        ["PUT /api/saddles/{saddleId}/owner"] = ["""{"ownerId":"@heir","from":"2026-05-01T10:00:00Z"}"""],
        ["PUT /api/saddles/{saddleId}/parts"] =
        [
            """
                {"parts":[{"part":"tree","side":null,"what":"bends cold @word","gauge":"bench"}],"from":"2026-05-01T10:00:00Z"}
                """,
        ],
        ["POST /api/saddles/{saddleId}/move"] =
        [
            """{"fromHorseId":"@saddled","horseId":"@other","reason":"@word","at":"2026-07-02T10:00:00Z"}""",
        ],
        ["POST /api/saddles/{saddleId}/trials"] =
        [
            """{"horseId":"@other","until":"2026-12-24","from":"2026-07-03T10:00:00Z","onBoth":true}""",
        ],
        ["POST /api/saddles/{saddleId}/trials/{trialId}/end"] = ["""{"kept":false,"reason":"@word","at":"2026-07-04T10:00:00Z"}"""],
        ["POST /api/saddles/{saddleId}/pads"] =
        [
            """
                {"horseId":"@horse","pad":"felt @word","shims":[{"place":"front","side":"left","thicknessMm":6}],
                "from":"2026-07-05T10:00:00Z"}
                """,
        ],
        ["POST /api/saddles/{saddleId}/pads/{padId}/remove"] = ["""{"reason":"@word","at":"2026-07-06T10:00:00Z"}"""],
        ["POST /api/saddles/{saddleId}/withdraw"] = [Reason],
        ["POST /api/saddles/{saddleId}/files/{fileId}/remove"] = [Reason],
        ["POST /api/reminders/{reminderId}/answer"] = ["""{"answer":"later","words":"@word is away."}"""],
        ["POST /api/reminders/{reminderId}/put-off"] = ["""{"until":"2027-01-20","reason":"@word"}"""],
        ["POST /api/reminders/{reminderId}/book"] = ["""{"for":"2027-01-04T10:00:00+01:00","fitterId":"@fitter","tell":false}"""],
        ["POST /api/reminders/{reminderId}/cancel-booking"] = ["""{"reason":"@word","tell":false}"""],
        ["POST /api/reminders/{reminderId}/done"] = ["{}"],
        ["POST /api/reminders/{reminderId}/close"] = [Reason],
        ["POST /api/reminders/{reminderId}/vet-cleared"] = ["""{"words":"@word said so."}"""],
        ["POST /api/reminders/{reminderId}/tell-again"] = ["{}"],
        ["POST /api/reminders/{reminderId}/ask-vet"] = ["""{"personId":"@vet"}"""],
        ["POST /api/letters/release"] = ["{}"],
        ["POST /api/reminder-rules/dry-runs"] = ["""{"rules":null,"watch":null,"from":"2026-06-01","to":"2026-11-01","most":1}"""],
        ["PUT /api/letter-templates/{kind}/{language}"] = ["""{"source":@template}"""],
        ["POST /api/letter-templates/{kind}/{language}/preview"] = ["""{"source":@template,"horseId":"@horse"}"""],
        ["POST /api/plan/accept"] = ["""{"visits":[{"horseId":"@horse","at":"2027-01-05T10:00:00+01:00","fitterId":"@fitter"}]}"""],
        ["POST /api/plan/decline"] = ["""{"horseId":"@horse","until":"2027-01-06","reason":"@word"}"""],
        ["POST /api/calendar-feeds"] = ["""{"name":"Calendar @word","fitterId":null}"""],
        ["PUT /api/practice"] = ["""{"name":"Practice @word","timeZone":"Europe/Berlin","reason":"@word"}"""],
        ["PUT /api/practice/units"] = ["""{"lengths":"millimetres","heights":"centimetres"}"""],
        ["PUT /api/practice/protocol"] = ["""{"stations":[{"key":"behind-shoulder","where":"@word","fromDatumMm":100}]}"""],
        ["PUT /api/practice/gauges/{key}"] = [Gauge],
        ["POST /api/practice/gauges/{key}/retire"] = [Reason],
        ["POST /api/practice/studies"] =
        [
            """
                {"measure":"slope-left","station":"behind-shoulder","method":"@word","raters":null,
                "subjects":[[45,45.5],[41,41.2],[38,38.9],[44,44.1],[40,41]],"takenAt":"2026-05-01T10:00:00Z"}
                """,
        ],
        ["POST /api/practice/studies/{studyId}/withdraw"] = [Reason],
        ["POST /api/practice/studies/guided"] = ["""{"method":"flexible-curve @word","horses":5,"times":2}"""],
        ["POST /api/practice/studies/{studyId}/visits"] = ["""{"horseId":"@horse","visitId":"@visit"}"""],
        ["POST /api/practice/studies/{studyId}/finish"] = [""],
        ["POST /api/practice/learned"] = [""],
        ["POST /api/people"] = [Person],
        ["PUT /api/people/{personId}"] = [Person],
        ["PUT /api/yards/{yardId}"] = ["""{"name":"Yard @word @fresh","town":"@word"}"""],
        ["POST /api/yards"] = ["""{"name":"Yard @word @fresh","town":"@word"}"""],
        ["POST /api/imports"] = [Table],
        ["POST /api/imports/{importId}/try"] = [Plan],
        ["POST /api/imports/{importId}/enter"] = [Plan],
        ["POST /api/imports/{importId}/take-back"] = [""],
        ["POST /api/webhooks"] = ["""{"url":"https://hooks.example.org/@fresh","types":["horse_registered"]}"""],
        ["POST /api/webhooks/{webhookId}/start"] = [""],
        ["POST /api/horses/{horseId}/sharing/grants"] =
        [
            """{"personId":"@person","role":"veterinarian","scope":"record","mayComment":true,"until":"2027-01-01"}""",
        ],
        ["POST /api/horses/{horseId}/sharing/grants/{grantId}/take-back"] = [Reason],
        ["POST /api/horses/{horseId}/sharing/links"] =
        [
            """{"personId":"@person","role":"veterinarian","scope":"record","mayComment":true,"bindsToDevice":false,"days":30}""",
        ],
        ["POST /api/horses/{horseId}/sharing/links/{linkId}/take-back"] = [Reason],
        ["POST /api/me/keys"] = ["""{"label":"Key @word","most":"manager","days":30}"""],
        ["PUT /api/thresholds"] = ["""{"rules":@thresholds,"reason":"@word"}"""],
        ["PUT /api/reminder-rules"] = ["""{"rules":@reminder-rules,"reason":"@word"}"""],
        ["POST /api/read-models/rebuild"] = [""],
        ["POST /api/archive"] = ["PK"],
    };

    /// <summary>Parameters of an address that an honest program would give.</summary>
    private static readonly Dictionary<string, string> Queries = new(StringComparer.Ordinal)
    {
        ["kind"] = "cross-section",
        ["Kind"] = "document",
        ["VisitId"] = "@visit",
        ["TakenAt"] = "2026-06-12T10:00:00Z",
        ["Shows"] = "@person",
        ["station"] = "behind-shoulder",
        ["noise"] = "0.5",
        ["unit"] = "mm",
        ["datum"] = "0,0,0",
        ["up"] = "0,0,1",
        ["tail"] = "0,1,0",
        ["stations"] = "shoulder:0,behind-shoulder:102",
        ["measure"] = "slope-left",
        ["visits"] = "@visit,@second",
        ["name"] = "table.csv",
        ["at"] = "2026-11-01",
        ["month"] = "2026-12",
        ["key"] = "slope-left",
        ["q"] = "horse",
        ["since"] = "@visit",
    };

    /// <summary>Bodies of an operation; one that is null where it takes none.</summary>
    public static IReadOnlyList<string?> BodiesOf(Operation operation) =>
        Bodies.TryGetValue(operation.Name, out var bodies) ? bodies
        : operation.Body is null ? (string?[])[null]
        : throw new InvalidOperationException($"What does an honest program send to {operation.Name}?");

    /// <summary>What an honest program gives for this parameter; null where it leaves it out.</summary>
    public static string? QueryOf(Operation operation, string name) =>
        name is "after" or "limit" or "sheet" or "implausible" ? null
        : name is "kind" && operation.Reads ? null
        : name is "VisitId" && operation.Path.StartsWith("/api/saddles", StringComparison.Ordinal) ? null
        : name is "since" && !operation.Path.EndsWith("change-map", StringComparison.Ordinal) ? null
        : name is "unit" && operation.Path.Contains("/contours/", StringComparison.Ordinal) ? null
        : Queries.GetValueOrDefault(name);

    /// <summary>
    /// Honest and refused all the same: a letter is shown on a horse that had a reason for one, which only an evaluation finds; a visit
    /// that counts towards a study is repeated over days; a proposal can be declined of a horse that has one.
    /// </summary>
    public static bool IsRefused(Operation operation) =>
        operation.Path.EndsWith("/preview", StringComparison.Ordinal)
        || operation.Path.EndsWith("/studies/{studyId}/visits", StringComparison.Ordinal)
        || operation.Path.EndsWith("/plan/decline", StringComparison.Ordinal);

    /// <summary>Operations after which what they were about is not there any more, or not as it was.</summary>
    public static bool Spends(Operation operation) =>
        !operation.Reads
        && (
            operation.Method == HttpMethod.Delete
            || operation.Path.StartsWith("/api/reminders/", StringComparison.Ordinal)
            || operation.Path.StartsWith("/api/imports/", StringComparison.Ordinal)
            || Spending.Any(s => operation.Path.EndsWith(s, StringComparison.Ordinal))
        );

    private static readonly string[] Spending =
    [
        "/withdraw",
        "/merge",
        "/remove",
        "/end",
        "/erase",
        "/retire",
        "/finish",
        "/take-back",
        "/take-off",
        "/move",
        "/trials",
        "/correct",
        "/confirm",
        "/accept",
        "/decline",
        "/care-roles",
    ];

    private static string Points(Shape.Tracing tracing) =>
        JsonSerializer.Serialize(tracing.Points.Select(p => new[] { Math.Round(p.X, 2), Math.Round(p.Y, 2) }));

    private static string Rows(Shape.Tracing tracing, string between, string after) =>
        string.Concat(tracing.Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.00}{between}{p.Y:0.00}{after}")));

    private static string Drawing =>
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"600mm\" height=\"400mm\" viewBox=\"-300 -100 600 400\"><polyline points=\""
        + string.Concat(Backs.Section(45, 41).Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.00},{-p.Y:0.00} ")))
        + "\"/></svg>";

    /// <summary>A back of one section, drawn 500 mm long; in metres.</summary>
    private static string Mesh()
    {
        var section = Backs.Section(45, 41).Points;
        var lines = new[] { -50, 450 }
            .SelectMany(y => section.Select(p => string.Create(CultureInfo.InvariantCulture, $"v {p.X} {y} {p.Y}")))
            .Concat(
                Enumerable
                    .Range(1, section.Length - 1)
                    .Select(i =>
                        string.Create(CultureInfo.InvariantCulture, $"f {i} {i + 1} {section.Length + i + 1} {section.Length + i}")
                    )
            );
        return string.Join('\n', lines) + "\n";
    }
}
