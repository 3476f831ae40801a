using System.Collections.Frozen;
using System.Reflection;

namespace BackHistory.History.Store;

/// <summary>The next state after an event, by the same methods that the store folds with: for decisions that rest on events which are not
/// saved yet.</summary>
internal static class InMemory<TState>
    where TState : class
{
    private static readonly FrozenDictionary<Type, MethodInfo> Steps = typeof(TState)
        .GetMethods(BindingFlags.Public | BindingFlags.Static | BindingFlags.Instance)
        .Where(m => m.Name is "Create" or "Apply" && m.GetParameters().Length == 1 && m.ReturnType == typeof(TState))
        .ToFrozenDictionary(m => m.GetParameters()[0].ParameterType);

    public static TState Next(TState? state, object e) =>
        Steps.TryGetValue(e.GetType(), out var step)
            ? (TState)step.Invoke(step.IsStatic ? null : state, BindingFlags.DoNotWrapExceptions, null, [e], null)!
            : throw new ArgumentException($"{typeof(TState).Name} does not apply {e.GetType().Name}", nameof(e));
}
