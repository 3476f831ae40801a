using System.Collections.Concurrent;
using System.Reflection;

namespace BackHistory.Service.Web;

/// <summary>
/// A choice in an address is one of those that are offered: the framework reads any number as one. Bodies are looked at where they are
/// read (<see cref="Bodies"/>).
/// </summary>
public sealed class OfferedChoices : IEndpointFilter
{
    private static readonly ConcurrentDictionary<Type, PropertyInfo[]> Inside = new();

    public ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        foreach (var argument in context.Arguments)
        {
            if (argument is not null && !IsOffered(argument))
                return ValueTask.FromResult<object?>(Problems.From(RequestRefusals.NotOffered));
        }

        return next(context);
    }

    private static bool IsOffered(object argument) =>
        argument.GetType() is { IsEnum: true } type
            ? Enum.IsDefined(type, argument)
            : Inside.GetOrAdd(argument.GetType(), Choices).All(p => p.GetValue(argument) is not { } value || IsOffered(value));

    /// <summary>Of a record that gathers an address's parameters.</summary>
    private static PropertyInfo[] Choices(Type type) =>
        type.Namespace?.StartsWith($"{nameof(BackHistory)}.{nameof(Service)}", StringComparison.Ordinal) == true
            ? [.. type.GetProperties().Where(p => (Nullable.GetUnderlyingType(p.PropertyType) ?? p.PropertyType).IsEnum)]
            : [];
}
