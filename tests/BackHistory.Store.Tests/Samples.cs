using System.Reflection;
using System.Text.Json.Serialization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.Shape;
using BackHistory.Trends.Rules;

namespace BackHistory.Store.Tests;

/// <summary>One example of every event, made from its constructor so that a new event needs no new line here.</summary>
internal static class Samples
{
    public static object Of(Type type)
    {
        var constructor = type.GetConstructors(BindingFlags.Public | BindingFlags.Instance).MaxBy(c => c.GetParameters().Length)!;
        return constructor.Invoke([.. constructor.GetParameters().Select(p => Value(p.ParameterType, StoredName(type, p.Name!)))]);
    }

    /// <summary>As it lies in the store, whatever it is called here today.</summary>
    private static string StoredName(Type type, string name) =>
        type.GetProperty(name)?.GetCustomAttribute<JsonPropertyNameAttribute>()?.Name is { } stored
            ? char.ToUpperInvariant(stored[0]) + stored[1..]
            : name;

    private static object? Value(Type type, string name)
    {
        var t = Nullable.GetUnderlyingType(type) ?? type;
        if (t == typeof(Guid))
            return DeterministicId.Of(name);
        if (t == typeof(string))
            return name;
        if (t == typeof(int))
            return 3;
        if (t == typeof(double))
            return 41.5;
        if (t == typeof(bool))
            return true;
        if (t == typeof(DateOnly))
            return new DateOnly(2026, 6, 12);
        if (t == typeof(DateTimeOffset))
            return new DateTimeOffset(2026, 6, 12, 9, 30, 0, TimeSpan.Zero);
        if (t.IsEnum)
            return Enum.GetValues(t).GetValue(Enum.GetValues(t).Length - 1);
        if (t == typeof(Point))
            return new Point(1.5, -2.25);
        if (t == typeof(IReadOnlyList<Point>))
            return new[] { new Point(-100, 0), new Point(100, 0.5) };
        if (t == typeof(IReadOnlyDictionary<string, Point>))
            return new Dictionary<string, Point>(StringComparer.Ordinal) { ["muscle-junction-left"] = new(-70, -30) };
        if (t == typeof(IReadOnlyList<Adjustment>))
            return new[] { new Adjustment("tree", "left", "3", "4", "own") };
        if (t == typeof(IReadOnlyList<Station>))
            return Protocols.Default;
        if (t == typeof(IReadOnlyList<EvidenceNumber>))
            return new[] { (EvidenceNumber)Of(typeof(EvidenceNumber)) };
        if (t == typeof(WatchRules))
            return WatchRules.Default;
        if (t == typeof(long))
            return 1234L;
        if (t == typeof(IReadOnlyList<Guid>))
            return new[] { DeterministicId.Of(name, "1"), DeterministicId.Of(name, "2") };
        if (t == typeof(IReadOnlyList<IReadOnlyList<double>>))
            return new[] { new[] { 31.0, 31.8 }, new[] { 28.4, 28.1 } };
        // Any other list holds one.
        if (t.IsGenericType && t.GetGenericTypeDefinition() == typeof(IReadOnlyList<>))
        {
            var one = Array.CreateInstance(t.GetGenericArguments()[0], 1);
            one.SetValue(Value(t.GetGenericArguments()[0], name), 0);
            return one;
        }

        return Of(t);
    }
}
