using System.Text.Json;

namespace BackHistory.Language;

/// <summary>Values of closed lists in words: states, roles, kinds. They stand under the list's name and the value's, in kebab case
/// (<c>reminder-state.put-off</c>); what more is said of a value stands under a further word
/// (<c>reminder-state.put-off.meaning</c>).</summary>
public static class ClosedNames
{
    public static string Name<T>(this ReportLanguage language, T value)
        where T : struct, Enum => language[KeyOf(value)];

    /// <param name="more">What else is said of it: <c>meaning</c>.</param>
    /// <returns>Empty where nothing more is said.</returns>
    public static string Name<T>(this ReportLanguage language, T value, string more)
        where T : struct, Enum => language.Find($"{KeyOf(value)}.{more}") ?? "";

    internal static string KeyOf<T>(T value)
        where T : struct, Enum => $"{Kebab(typeof(T).Name)}.{Kebab(value.ToString())}";

    internal static string Kebab(string name) => JsonNamingPolicy.KebabCaseLower.ConvertName(name);
}
