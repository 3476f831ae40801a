using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Service.Web;

/// <summary>Reads the fields of a form one after another; every field that cannot be read is named, all at once.</summary>
public sealed class FieldReader
{
    private static readonly string[] Days = ["yyyy-MM-dd", "d.M.yyyy", "d. M. yyyy", "d MMM yyyy", "d/M/yyyy"];

    private static readonly string[] Hours = ["HH:mm", "H:mm", "HH:mm:ss", "H.mm", "HH.mm"];

    private readonly Dictionary<string, string> wrong = new(StringComparer.Ordinal);

    /// <summary>Why, by the field's id.</summary>
    public IReadOnlyDictionary<string, string> Wrong => wrong;

    public bool AllRead => wrong.Count == 0;

    /// <summary>Says of a field that was read why it cannot be taken.</summary>
    public void Refuse(string field, string why) => wrong[field] = why;

    public static string? Text(string? typed) => string.IsNullOrWhiteSpace(typed) ? null : typed.Trim();

    public string Needed(string field, string? typed, string why)
    {
        if (string.IsNullOrWhiteSpace(typed))
            wrong[field] = why;
        return typed?.Trim() ?? "";
    }

    public DateOnly? Day(string field, string? typed)
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        if (DateOnly.TryParseExact(typed.Trim(), Days, CultureInfo.InvariantCulture, DateTimeStyles.AllowWhiteSpaces, out var day))
            return day;
        wrong[field] = $"“{typed}” is no day: write it as 2026-04-21.";
        return null;
    }

    /// <summary>An hour of the day; null where none was typed.</summary>
    public TimeOnly? Hour(string field, string? typed)
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        if (TimeOnly.TryParseExact(typed.Trim(), Hours, CultureInfo.InvariantCulture, DateTimeStyles.None, out var hour))
            return hour;
        wrong[field] = $"“{typed}” is no time: write it as 09:30.";
        return null;
    }

    /// <summary>The beginning of a day where the practice is; null where none was typed.</summary>
    public DateTimeOffset? Since(string field, string? typed, Practice practice) =>
        Day(field, typed) is { } day ? ZoneClock.At(day, TimeOnly.MinValue, PracticeClock.Zone(practice)) : null;

    /// <summary>A decimal comma is as good as a point: the field holds one number.</summary>
    public double? Number(string field, string? typed)
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        if (
            double.TryParse(typed.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            && double.IsFinite(value)
        )
            return value;
        wrong[field] = $"“{typed}” is no number.";
        return null;
    }

    /// <summary>One of a list that must be chosen from.</summary>
    public T Choice<T>(string field, string? typed)
        where T : struct, Enum
    {
        if (Enum.GetNames<T>().Contains(typed, StringComparer.Ordinal) && Enum.TryParse<T>(typed, out var value))
            return value;
        wrong[field] = "Choose one of the list.";
        return default;
    }

    /// <summary>Somebody or something chosen; empty where nobody was.</summary>
    public Guid? Id(string field, string? typed, bool needed = false)
    {
        if (Guid.TryParse(typed, out var id))
            return id;
        if (needed || !string.IsNullOrEmpty(typed))
            wrong[field] = "Choose one of the list.";
        return null;
    }
}
