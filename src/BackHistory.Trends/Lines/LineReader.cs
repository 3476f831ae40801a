using System.Text.Json;

namespace BackHistory.Trends.Lines;

/// <summary>
/// Reads the fields of one line strictly and goes on after a fault, so that of several faults the first in the order of the codes can be
/// told.
/// </summary>
internal sealed class LineReader
{
    internal LineRefusal? Fault { get; private set; }

    internal void Refuse(RefusalCode code, string message)
    {
        if (Fault is null || code < Fault.Code)
            Fault = new(code, message);
    }

    /// <summary>True when the element is an object that holds no field but those named.</summary>
    internal bool Object(JsonElement element, string what, ReadOnlySpan<string> known)
    {
        if (element.ValueKind != JsonValueKind.Object)
        {
            Refuse(RefusalCode.Unreadable, $"{what} is not a JSON object.");
            return false;
        }
        foreach (var field in element.EnumerateObject())
            if (known.IndexOf(field.Name) < 0)
                Refuse(RefusalCode.Unreadable, $"Unknown field '{field.Name}' in {what}.");
        return true;
    }

    /// <summary>A number, or null when the field is absent or at fault.</summary>
    internal double? Number(JsonElement parent, string name, string what, bool needed = false)
    {
        if (parent.TryGetProperty(name, out var element))
            return Number(element, $"{name} of {what}");
        if (needed)
            Refuse(RefusalCode.Unreadable, $"Missing field '{name}' in {what}.");
        return null;
    }

    internal double? Number(JsonElement element, string what)
    {
        if (element.ValueKind == JsonValueKind.Null)
        {
            Refuse(RefusalCode.NotFinite, $"The {what} is null.");
            return null;
        }
        if (element.ValueKind != JsonValueKind.Number)
        {
            Refuse(RefusalCode.Unreadable, $"The {what} is not a number.");
            return null;
        }
        if (element.TryGetDouble(out var value) && double.IsFinite(value))
            return value;
        Refuse(RefusalCode.NotFinite, $"The {what} is too large for a double.");
        return null;
    }

    internal string? Text(JsonElement parent, string name, string what, bool needed = false)
    {
        if (!parent.TryGetProperty(name, out var element))
        {
            if (needed)
                Refuse(RefusalCode.Unreadable, $"Missing field '{name}' in {what}.");
            return null;
        }
        if (element.ValueKind == JsonValueKind.String)
            return element.GetString();
        Refuse(RefusalCode.Unreadable, $"The {name} of {what} is not a string.");
        return null;
    }

    /// <summary>A date or date-time with offset as days since 1970, or null when absent or at fault.</summary>
    internal double? Day(JsonElement parent, string name, string what, bool needed = false)
    {
        // A null date names no day: it is refused rather than taken for a field left out.
        if (parent.TryGetProperty(name, out var element) && element.ValueKind == JsonValueKind.Null)
        {
            Refuse(RefusalCode.BadDate, $"The {name} of {what} is null.");
            return null;
        }
        if (Text(parent, name, what, needed) is not { } text)
            return null;
        if (Instant.TryParse(text, out var day))
            return day;
        Refuse(
            RefusalCode.BadDate,
            $"The {name} of {what} is not a date (2026-11-25) or a date-time with offset (2026-11-25T09:30:00+01:00): '{Short(text)}'."
        );
        return null;
    }

    static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";
}
