using BackHistory.Attack.Tests.Attacked;

namespace BackHistory.Attack.Tests.Attacks;

/// <summary>Whatever was taken has to be shown: pages, charts and answers about what was attacked.</summary>
internal static class Looks
{
    private static readonly string[] Everywhere =
    [
        "/",
        "/plan",
        "/reminders",
        "/saddles",
        "/practice",
        "/practice/thresholds",
        "/practice/reminders",
        "/practice/protocol",
        "/practice/gauges",
        "/practice/studies",
        "/practice/letters",
        "/practice/audit",
        "/practice/months",
        "/practice/changes",
        "/practice/bring-in",
        "/me/keys",
        "/api/caseload",
        "/api/changes",
        "/api/audit/changed",
        "/api/people",
        "/api/yards",
        "/api/practice/outlook",
        "/api/plan?month=2027-01",
        "/api/reminders",
        "/api/webhooks",
    ];

    private static readonly string[] OfHorse =
    [
        "/horses/@horse",
        "/horses/@horse/compare",
        "/horses/@horse/share",
        "/api/horses/@horse",
        "/api/horses/@horse/timeline",
        "/api/horses/@horse/measures",
        "/api/horses/@horse/trends",
        "/api/horses/@horse/since-fit",
        "/api/horses/@horse/decision",
        "/api/horses/@horse/condition",
        "/api/horses/@horse/charts/condition.svg",
        "/api/horses/@horse/charts/trend.svg?measure=slope-left&station=behind-shoulder",
        "/api/horses/@horse/charts/section.svg?station=behind-shoulder",
        "/api/horses/@horse/known?at=2026-11-01",
        "/api/horses/@horse/sharing",
        "/api/horses/@horse/archive",
        "/api/horses/@horse/visits",
        "/api/horses/@horse/compare/section.svg?station=behind-shoulder",
        "/api/horses/@horse/compare/topline.svg",
        "/api/horses/@horse/compare/report.pdf",
    ];

    private static readonly string[] OfSaddle =
    [
        "/saddles/@saddle",
        "/api/saddles/@saddle",
        "/api/saddles/@saddle/horses/@horse/setting.pdf",
        "/api/saddles/@saddle/horses/@horse/gauge.svg",
    ];

    /// <param name="after">What was attacked, an operation or a page.</param>
    public static async Task At(AttackedService service, Side side, string after)
    {
        await service.Followed();
        var there = service.Of(side).There;
        var paths = after.Contains("practice", StringComparison.Ordinal)
            ? Everywhere.Concat(OfHorse)
            : OfHorse.Concat(Everywhere.Take(4)).Concat(OfSaddle.Where(_ => after.Contains("saddle", StringComparison.Ordinal)));
        foreach (var path in paths)
        {
            if (path.Contains("@horse", StringComparison.Ordinal) && !there.ContainsKey("horse"))
                continue;
            if (path.Contains("@saddle", StringComparison.Ordinal) && !there.ContainsKey("saddle"))
                continue;
            await service.Session(side).Look(await service.Of(side).Filled(path));
        }
    }
}
