using System.Collections;
using System.Collections.Concurrent;
using System.Reflection;

namespace BackHistory.Store.Archives;

/// <summary>Whether something that was read from elsewhere has every part that its type says, and of every closed list a value that is in
/// it. JSON leaves both to chance: what is not there is null, and any number is taken for an enum.</summary>
public static class WholeValue
{
    private sealed record Part(string Name, PropertyInfo Of, bool Needed);

    private static readonly ConcurrentDictionary<Type, Part[]> Known = new();

    /// <summary>Which part is missing, in words; null where none is.</summary>
    public static string? Missing(object value) =>
        Look(value, "", (part, v) => v is null && part.Needed ? $"'{part.Name}' is missing." : null);

    /// <summary>Which value is in no list of this release, in words; null where each is.</summary>
    public static string? Unlisted(object value) => Look(value, "", (_, _) => null);

    private static string? Look(object value, string name, Func<Part, object?, string?> judge)
    {
        if (value is Enum listed)
            return Enum.IsDefined(value.GetType(), value) || value.GetType().IsDefined(typeof(FlagsAttribute))
                ? null
                : $"'{name}' is {listed:D}, which is in no list of this release.";
        return value switch
        {
            string => null,
            IDictionary pairs => Every(pairs.Keys, name, judge) ?? Every(pairs.Values, name, judge),
            IEnumerable items => HoldsNothingToJudge(value.GetType()) ? null : Every(items, name, judge),
            _ when IsOurs(value.GetType()) => Known
                .GetOrAdd(value.GetType(), PartsOf)
                .Select(part => OfPart(part, part.Of.GetValue(value), judge))
                .FirstOrDefault(problem => problem is not null),
            _ => null,
        };
    }

    private static string? OfPart(Part part, object? value, Func<Part, object?, string?> judge) =>
        judge(part, value) ?? (value is null ? null : Look(value, part.Name, judge));

    private static string? Every(IEnumerable items, string name, Func<Part, object?, string?> judge)
    {
        foreach (var item in items)
            if (item is not null && Look(item, name, judge) is { } problem)
                return problem;
        return null;
    }

    private static bool IsOurs(Type type) => type.Namespace?.StartsWith(nameof(BackHistory), StringComparison.Ordinal) == true;

    /// <summary>Thousands of points and numbers.</summary>
    private static bool HoldsNothingToJudge(Type list) =>
        (
            list.IsArray ? list.GetElementType()
            : list.GetGenericArguments() is [var only] ? only
            : null
        )
            is { IsValueType: true, IsEnum: false };

    /// <summary>What is written and read, not what is worked out of it.</summary>
    private static Part[] PartsOf(Type type)
    {
        var nulls = new NullabilityInfoContext();
        return
        [
            .. type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
                .Where(p => p is { CanRead: true, CanWrite: true } && p.GetIndexParameters().Length == 0)
                .Select(p => new Part(
                    char.ToLowerInvariant(p.Name[0]) + p.Name[1..],
                    p,
                    !p.PropertyType.IsValueType && nulls.Create(p).ReadState == NullabilityState.NotNull
                )),
        ];
    }
}
