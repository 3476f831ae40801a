using System.Collections.Concurrent;
using System.Globalization;
using System.Reflection;
using BackHistory.History;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.Extensions.Primitives;

namespace BackHistory.Service.Web;

/// <summary>
/// Parameters of a page's address that are not what the page expects, refused once for every page: the framework would throw for an id
/// that is none.
/// </summary>
public static class PageAddresses
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<(string Name, Type Type)>> Known = new();

    public static void UsePageAddresses(this WebApplication app) =>
        app.Use(
            (http, next) =>
                http.GetEndpoint()?.Metadata.GetMetadata<ComponentTypeMetadata>() is { } page
                && Wrong(page.Type, http.Request.Query) is { } name
                    ? ErrorHandling.Refuse(http, NotReadable(name))
                    : next(http)
        );

    private static Refused NotReadable(string name) =>
        new("unreadable", $"The address cannot be read: '{name}' is not what belongs there. Go back and follow the link again.");

    private static string? Wrong(Type page, IQueryCollection query) =>
        Known
            .GetOrAdd(page, Typed)
            .Where(p => query.TryGetValue(p.Name, out var values) && !Fits(p.Type, values))
            .Select(p => p.Name)
            .FirstOrDefault();

    private static IReadOnlyList<(string Name, Type Type)> Typed(Type page) =>
        [
            .. page.GetProperties(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic)
                .Select(p => (Property: p, From: p.GetCustomAttribute<SupplyParameterFromQueryAttribute>()))
                .Where(p => p.From is not null && p.Property.PropertyType != typeof(string))
                .Select(p => (p.From!.Name ?? p.Property.Name, p.Property.PropertyType)),
        ];

    private static bool Fits(Type type, StringValues values) =>
        type.IsArray
            ? values.All(v => FitsOne(type.GetElementType()!, v))
            : values.Count == 1 && (values[0] is null or "" || FitsOne(Nullable.GetUnderlyingType(type) ?? type, values[0]));

    private static bool FitsOne(Type type, string? value) =>
        type == typeof(string)
        || (type == typeof(Guid) && Guid.TryParse(value, out _))
        || (type == typeof(bool) && bool.TryParse(value, out _))
        || (type == typeof(int) && int.TryParse(value, NumberStyles.Integer, CultureInfo.InvariantCulture, out _));
}
