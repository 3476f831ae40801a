using System.Globalization;
using BackHistory.History.Practices;

namespace BackHistory.Service.Horses;

/// <summary>Somebody or some place chosen on a page, and since when.</summary>
public sealed class ChoiceForm
{
    public string Key { get; set; } = "";

    /// <summary>Of what the page showed.</summary>
    public long? Version { get; set; }

    /// <summary>Empty where nobody was chosen.</summary>
    public string? Id { get; set; }

    /// <summary>The day; empty for now.</summary>
    public string? From { get; set; }

    public Guid? Chosen => Guid.TryParse(Id, out var id) ? id : null;

    /// <summary>The beginning of the day, where the practice is.</summary>
    public DateTimeOffset? Since(Practice practice) =>
        DateOnly.TryParseExact(From, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? PracticeClock.At(day, TimeOnly.MinValue, PracticeClock.Zone(practice))
            : null;
}
