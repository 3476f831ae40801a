using BackHistory.Attack.Tests.Requests;

namespace BackHistory.Attack.Tests.Hostile;

/// <summary>Values that no honest program sends, as the text of JSON (some of it is none).</summary>
internal static class HostileJson
{
    private const int Million = 1_000_000;

    private static readonly string Long = $"\"{new string('n', 1 << 20)}\"";

    private static readonly string Deep = new string('[', 60_000) + new string(']', 60_000);

    private static readonly string Nested = string.Concat(Enumerable.Repeat("{\"a\":", 40)) + "1" + new string('}', 40);

    private static readonly string ManyNumbers = $"[{string.Join(',', Enumerable.Repeat("1", Million))}]";

    /// <summary>A million points, as many as a body of 8 MB holds.</summary>
    private static readonly string ManyPoints =
        $"[{string.Join(',', Enumerable.Range(0, Million).Select(i => $"[{i % 10},{i / 10 % 10}]"))}]";

    private static readonly string[] Anything =
    [
        "null",
        "true",
        "0",
        "-1",
        "\"\"",
        "\"x\"",
        "[]",
        "{}",
        "[null]",
        "{\"x\":1}",
        "\"\\ud800\"",
        "\"\\u0000\"",
        "",
        "{",
        "nul",
        Nested,
        Deep,
    ];

    private static readonly string[] Numbers =
    [
        "NaN",
        "\"NaN\"",
        "\"Infinity\"",
        "-Infinity",
        "1e308",
        "-1e308",
        "1.7976931348623157e308",
        "1e155",
        "-1e155",
        "1e-320",
        "-1e-320",
        "4.9e-324",
        "1e400",
        "-0.0",
        "1e-9",
        "0.01",
        "0.1",
        "1e4",
        "12345.678",
        "99999999999999999999999999999999",
        "2147483647",
        "2147483648",
        "-2147483648",
        "9223372036854775807",
        "9223372036854775808",
        "\"1\"",
        "1.",
        "01",
        "0x10",
    ];

    private static readonly string[] Texts =
    [
        "\"a\\u0000b\"",
        "\"\\ud800x\"",
        "\"x\\udfff\"",
        "\"\\udc00\\ud800\"",
        "\" \"",
        "\"\\u202egnp.exe\"",
        "\"\\ufeff\"",
        "\"<script>alert(1)</script>\"",
        "\"'; drop table history.mt_events; --\"",
        "\"{{ 7 | times: 7 }}{% for i in (1..100000000) %}x{% endfor %}\"",
        "\"%s%n{0}\"",
        "\"../../../etc/passwd\"",
        "\"x\\r\\nBcc: everybody@example.org\"",
        "\"Anna <anna@example.org>\"",
        "\"=cmd|' /C calc'!A0\"",
        "\"Mars/Phobos\"",
        "\"Europe/Berlin\\u0000\"",
        "\"../UTC\"",
        "\"http://169.254.169.254/latest\"",
        "\"javascript:alert(1)\"",
        "\"NaN\"",
        "\"9999-12-31T23:59:59Z\"",
        "\"\u0001\"",
        "\"\\q\"",
        "\"open",
        Long,
    ];

    private static readonly string[] Times =
    [
        "\"9999-12-31\"",
        "\"0001-01-01\"",
        "\"9999-12-31T23:59:59.9999999Z\"",
        "\"9999-12-31T23:59:59.9999999-14:00\"",
        "\"0001-01-01T00:00:00Z\"",
        "\"0001-01-01T00:00:00+14:00\"",
        "\"2026-02-30\"",
        "\"2026-02-30T10:00:00Z\"",
        "\"2026-11-20T10:00:00+25:00\"",
        "\"-0001-01-01T00:00:00Z\"",
        "\"10000-01-01T00:00:00Z\"",
        "\"2026-11-20T10:00:00\"",
        "\"2026-11-20T24:00:00Z\"",
        "\"1980-01-01T00:00:00Z\"",
        "\"1980-01-01\"",
        "\"2126-12-31\"",
        "\"2126-12-31T23:59:59Z\"",
        "20261120",
        "\"now\"",
    ];

    private static readonly string[] Ids =
    [
        "\"00000000-0000-0000-0000-000000000000\"",
        "\"ffffffff-ffff-ffff-ffff-ffffffffffff\"",
        "\"not-an-id\"",
        "\"{01d5305e-7bf0-8ed4-82d4-f00ee0dda9de}\"",
        "\"01d5305e7bf08ed482d4f00ee0dda9de\"",
        "\"01d5305e-7bf0-8ed4-82d4-f00ee0dda9de \\u0000\"",
        "12",
        ForeignId,
    ];

    private static readonly string[] Lists =
    [
        "[[]]",
        "[[[[[[[[[[]]]]]]]]]]",
        "[1,\"x\",null,{}]",
        "[[0,0],[0,0],[0,0],[0,0],[0,0],[0,0],[0,0],[0,0],[0,0],[0,0],[0,0],[0,0]]",
        "[[0,0],[1,0],[2,0],[3,0],[4,0],[5,0],[6,0],[7,0],[8,0],[9,0],[10,0],[11,0]]",
        "[[1e308,0],[-1e308,0]]",
        "[[1e155,0],[-1e155,1e155],[0,0]]",
        "[[1e-320,0],[0,1e-320],[0,0]]",
        "[[NaN,0]]",
        "[[\"\\ud800\",0]]",
        "[[1]]",
        "[[1,2,3]]",
        "[\"\\ud800\"]",
        "[\"\\u0000\"]",
        ManyNumbers,
        ManyPoints,
    ];

    /// <summary>Stands for an id of the other practice, which the attack puts in.</summary>
    public const string ForeignId = "\"@foreign\"";

    /// <summary>Values for a place where this kind should stand: those made for it, then those that fit nowhere.</summary>
    public static IReadOnlyList<string> For(FieldKind kind) =>
        kind switch
        {
            FieldKind.Number => [.. Numbers, .. Anything],
            FieldKind.Time => [.. Times, .. Texts.Take(3), .. Anything],
            FieldKind.Id => [.. Ids, .. Texts.Take(3), .. Anything],
            FieldKind.List => [.. Lists, .. Anything],
            FieldKind.Object => [.. Anything, .. Lists.Take(3)],
            _ => [.. Texts, .. Anything],
        };
}
