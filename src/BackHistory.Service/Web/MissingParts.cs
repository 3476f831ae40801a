using System.Collections;
using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using System.Reflection;
using System.Text.Json;

namespace BackHistory.Service.Web;

/// <summary>
/// The parts without which a request is none, and which the reader of JSON leaves null when they are not sent or sent as null: objects,
/// lists and what stands in a list, however deep. A missing text is read as an empty one, and judged by whoever needs it in better words.
/// </summary>
internal static class MissingParts
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<Part>> Known = new();

    /// <summary>The first part that is missing, as a path of JSON's names; null when all are there.</summary>
    public static string? FirstMissing(object request) => Inside(request, "");

    private static string? Inside(object value, string at)
    {
        foreach (var part in Known.GetOrAdd(value.GetType(), Find))
        {
            var path = at.Length == 0 ? part.Name : $"{at}.{part.Name}";
            var held = part.Property.GetValue(value);
            if (held is null && part.IsNeededText)
                part.Property.SetValue(value, "");
            else if (Missing(held, part.Nullability, path) is { } missing)
                return missing;
        }

        return null;
    }

    private static string? Missing(object? value, NullabilityInfo nullability, string path)
    {
        switch (value)
        {
            case null:
                return nullability.ReadState != NullabilityState.NotNull ? null : path;
            // A list that was never made throws whatever is asked of it.
            case IList list when IsUnmade(list):
                return path;
            case string:
                return null;
            case IDictionary dictionary:
                return dictionary
                    .Keys.Cast<object>()
                    .Select(key => Element(dictionary[key], nullability, $"{path}.{key}"))
                    .FirstOrDefault(missing => missing is not null);
            // Numbers are many and never missing.
            case IEnumerable list:
                return ElementOf(list.GetType()) is { IsValueType: true } ? null : InList(list, nullability, path);
            default:
                return Inside(value, path);
        }
    }

    private static string? InList(IEnumerable list, NullabilityInfo nullability, string path)
    {
        var at = 0;
        foreach (var element in list)
        {
            if (Element(element, nullability, string.Create(CultureInfo.InvariantCulture, $"{path}[{at++}]")) is { } missing)
                return missing;
        }

        return null;
    }

    private static string? Element(object? element, NullabilityInfo list, string path) =>
        (list.ElementType ?? (list.GenericTypeArguments is [.., var last] ? last : null)) is { } nullability
            ? Missing(element, nullability, path)
            : null;

    private static bool IsUnmade(IList list) =>
        list.GetType() is { IsGenericType: true } type
        && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>)
        && (bool)type.GetProperty(nameof(ImmutableArray<int>.IsDefault))!.GetValue(list)!;

    private static Type? ElementOf(Type list) => list.GetElementType() ?? (list.IsGenericType ? list.GetGenericArguments()[^1] : null);

    private static IReadOnlyList<Part> Find(Type type)
    {
        // What another library's type holds is that library's matter.
        if (type.Namespace?.StartsWith(nameof(BackHistory), StringComparison.Ordinal) != true || type.IsEnum)
            return [];
        var nullability = new NullabilityInfoContext();
        return
        [
            .. type.GetProperties()
                .Where(p => p.GetIndexParameters().Length == 0 && p.CanWrite && Holds(p.PropertyType))
                .Select(p => new Part(JsonNamingPolicy.CamelCase.ConvertName(p.Name), p, nullability.Create(p))),
        ];
    }

    private static bool Holds(Type type) =>
        !type.IsValueType
        || (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>))
        || (
            type is { IsPrimitive: false, IsEnum: false }
            && type.Namespace?.StartsWith(nameof(BackHistory), StringComparison.Ordinal) == true
        );

    private sealed record Part(string Name, PropertyInfo Property, NullabilityInfo Nullability)
    {
        public bool IsNeededText => Property.PropertyType == typeof(string) && Nullability.ReadState == NullabilityState.NotNull;
    }
}
