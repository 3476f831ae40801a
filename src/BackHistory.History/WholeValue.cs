using System.Collections;
using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using System.Reflection;
using System.Text.Json;

namespace BackHistory.History;

/// <summary>
/// Whether something that was read from elsewhere has every part that its type says, and of every closed list a value that is in it,
/// however deep. JSON leaves both to chance: what is not there is null, and any number is taken for an enum.
/// </summary>
public static class WholeValue
{
    private sealed record Part(string Name, PropertyInfo Property, NullabilityInfo Nullability)
    {
        public bool IsNeededText => Property.PropertyType == typeof(string) && Nullability.ReadState == NullabilityState.NotNull;
    }

    private static readonly ConcurrentDictionary<Type, IReadOnlyList<Part>> Known = new();

    /// <param name="fillTexts">A missing text becomes an empty one, for whoever needs it to judge it in better words.</param>
    /// <returns>The first part that is missing, as a path of JSON's names; null when all are there.</returns>
    public static string? FirstMissing(object value, bool fillTexts = false) => new Missing(fillTexts).Inside(value, "");

    /// <returns>The first value that no list of this release holds, in words; null when there is none.</returns>
    public static string? FirstUnlisted(object value) => new Unlisted().Inside(value, "");

    /// <summary>Goes through everything that a value holds; each judge says what is wrong where it stands.</summary>
    private abstract class Walk
    {
        internal string? Inside(object value, string at)
        {
            foreach (var part in Known.GetOrAdd(value.GetType(), PartsOf))
            {
                var path = at.Length == 0 ? part.Name : $"{at}.{part.Name}";
                if (Any(Held(value, part), part.Nullability, path) is { } problem)
                    return problem;
            }

            return null;
        }

        protected virtual object? Held(object value, Part part) => part.Property.GetValue(value);

        protected abstract string? OfNothing(NullabilityInfo nullability, string path);

        protected abstract string? OfListed(Enum listed, string path);

        private string? Any(object? value, NullabilityInfo nullability, string path)
        {
            switch (value)
            {
                case null:
                // A list that was never made throws whatever is asked of it.
                case IList list when IsUnmade(list):
                    return OfNothing(nullability, path);
                case string:
                    return null;
                case Enum listed:
                    return OfListed(listed, path);
                case IDictionary pairs:
                    return pairs
                        .Keys.Cast<object>()
                        .Select(key =>
                            (key is Enum listed ? OfListed(listed, path) : null) ?? Element(pairs[key], nullability, $"{path}.{key}")
                        )
                        .FirstOrDefault(problem => problem is not null);
                // Points and numbers are many; none is missing, and none stands in a list.
                case IEnumerable list:
                    return ElementOf(list.GetType()) is { IsValueType: true, IsEnum: false } ? null : InList(list, nullability, path);
                default:
                    return Inside(value, path);
            }
        }

        private string? InList(IEnumerable list, NullabilityInfo nullability, string path)
        {
            var at = 0;
            foreach (var element in list)
            {
                if (Element(element, nullability, string.Create(CultureInfo.InvariantCulture, $"{path}[{at++}]")) is { } problem)
                    return problem;
            }

            return null;
        }

        private string? Element(object? element, NullabilityInfo list, string path) =>
            (list.ElementType ?? (list.GenericTypeArguments is [.., var last] ? last : null)) is { } nullability
                ? Any(element, nullability, path)
                : null;
    }

    private sealed class Missing(bool fillTexts) : Walk
    {
        protected override object? Held(object value, Part part)
        {
            var held = base.Held(value, part);
            if (held is not null || !fillTexts || !part.IsNeededText)
                return held;
            part.Property.SetValue(value, "");
            return "";
        }

        protected override string? OfNothing(NullabilityInfo nullability, string path) =>
            nullability.ReadState == NullabilityState.NotNull ? path : null;

        protected override string? OfListed(Enum listed, string path) => null;
    }

    private sealed class Unlisted : Walk
    {
        protected override string? OfNothing(NullabilityInfo nullability, string path) => null;

        protected override string? OfListed(Enum listed, string path) =>
            Enum.IsDefined(listed.GetType(), listed) || listed.GetType().IsDefined(typeof(FlagsAttribute), inherit: false)
                ? null
                : $"'{path}' is {listed:D}, which is in no list of this release.";
    }

    private static bool IsUnmade(IList list) =>
        list.GetType() is { IsGenericType: true } type
        && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>)
        && (bool)type.GetProperty(nameof(ImmutableArray<int>.IsDefault))!.GetValue(list)!;

    private static Type? ElementOf(Type list) => list.GetElementType() ?? (list.IsGenericType ? list.GetGenericArguments()[^1] : null);

    /// <summary>What is written and read, not what is worked out of it. What another library's type holds is that library's
    /// matter.</summary>
    private static IReadOnlyList<Part> PartsOf(Type type)
    {
        if (!IsOurs(type) || type.IsEnum)
            return [];
        var nullability = new NullabilityInfoContext();
        return
        [
            .. type.GetProperties()
                .Where(p =>
                    p.GetIndexParameters().Length == 0 && p.CanWrite && Holds(Nullable.GetUnderlyingType(p.PropertyType) ?? p.PropertyType)
                )
                .Select(p => new Part(JsonNamingPolicy.CamelCase.ConvertName(p.Name), p, nullability.Create(p))),
        ];
    }

    private static bool IsOurs(Type type) => type.Namespace?.StartsWith(nameof(BackHistory), StringComparison.Ordinal) == true;

    private static bool Holds(Type type) =>
        !type.IsValueType || IsOurs(type) || (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>));
}
