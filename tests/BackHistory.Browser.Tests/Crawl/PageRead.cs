using System.Text.Json;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>What a page holds.</summary>
internal sealed record PageRead(IReadOnlyList<FormRead> Forms, IReadOnlyList<string> Links, IReadOnlyList<string> Ids)
{
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);

    public static T Of<T>(string json) => JsonSerializer.Deserialize<T>(json, Web)!;
}

internal sealed record FormRead(
    int At,
    string Verb,
    string Action,
    string Handler,
    string Does,
    string Near,
    bool Aside,
    IReadOnlyList<ButtonRead> Buttons
);

internal sealed record ButtonRead(int Index, string Says, string Does, string Action, bool Aside);

/// <summary>What came of filling a form.</summary>
internal sealed record Filled(bool Shown, IReadOnlyList<string> Held, IReadOnlyList<FileField> Files);

internal sealed record FileField(int Index, string Accept, bool Required);

internal sealed record FieldRead(string Name, string Type, string Value, string Says);
