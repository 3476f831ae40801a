using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>A horse as it is typed into a page.</summary>
public sealed class HorseForm : TypedForm
{
    public string? Name { get; set; }

    public string? Sex { get; set; }

    /// <summary>A day, a month or a year.</summary>
    public string? Born { get; set; }

    /// <summary>Years, where nobody knows the day.</summary>
    public string? Age { get; set; }

    public string? Height { get; set; }

    /// <summary><c>cm</c>, <c>m</c> or <c>hands</c>.</summary>
    public string HeightIn { get; set; } = "cm";

    public string? Breed { get; set; }

    public string? Colour { get; set; }

    /// <summary>A person's id; empty where nobody was chosen.</summary>
    public string? Owner { get; set; }

    public string? OwnerName { get; set; }

    public string? OwnerEmail { get; set; }

    public string? OwnerPhone { get; set; }

    public string? Yard { get; set; }

    public string? YardName { get; set; }

    public string? YardTown { get; set; }

    /// <summary>Somebody looked: no horse of nearly the same name is this one.</summary>
    public bool IsAnother { get; set; }

    public string? Reason { get; set; }

    /// <summary>A form that holds what is known.</summary>
    public static HorseForm From(Horse horse, DisplayUnits units, string key) =>
        new()
        {
            Key = key,
            Name = horse.Name,
            Sex = horse.Sex?.ToString(),
            Born = horse.Foaled?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            HeightIn = units.Heights == HeightUnit.Hands ? "hands" : "cm",
            Height =
                horse.HeightMm is not { } mm ? null
                : units.Heights == HeightUnit.Hands ? DisplayUnits.InHands(mm)
                : (mm / 10.0).ToString("0.#", CultureInfo.InvariantCulture),
            Breed = horse.Breed,
            Colour = horse.Colour,
        };

    /// <summary>What was typed, read; every field that cannot be read is named, all at once.</summary>
    /// <param name="today">The practice's day, from which an age counts.</param>
    public (HorseDetails? Details, IReadOnlyDictionary<string, string> Wrong) Read(DateOnly today)
    {
        var wrong = new Dictionary<string, string>(StringComparer.Ordinal);
        if (string.IsNullOrWhiteSpace(Name))
            wrong["name"] = "A horse needs a name.";
        Sex? sex = null;
        if (!string.IsNullOrEmpty(Sex))
        {
            if (Enum.TryParse<Sex>(Sex, out var known) && Enum.IsDefined(known))
                sex = known;
            else
                wrong["sex"] = "Choose one of the list.";
        }

        var born = ReadBorn(today, wrong);
        var height = ReadHeight(wrong);
        return wrong.Count > 0 ? (null, wrong) : (new HorseDetails(Name!, sex, born, height, Breed, Colour), wrong);
    }

    /// <summary>Where only the year is known, its first day: horses of a year are counted from there (common practice, no
    /// source).</summary>
    private DateOnly? ReadBorn(DateOnly today, Dictionary<string, string> wrong)
    {
        if (!string.IsNullOrWhiteSpace(Born))
        {
            string[] forms = ["yyyy-MM-dd", "yyyy-MM", "yyyy", "d.M.yyyy", "d. M. yyyy", "M/yyyy", "d MMM yyyy"];
            if (DateOnly.TryParseExact(Born.Trim(), forms, CultureInfo.InvariantCulture, DateTimeStyles.AllowWhiteSpaces, out var day))
                return day;
            wrong["born"] = $"“{Born}” is no day: write it as 2016-04-21, or the year alone.";
            return null;
        }

        if (string.IsNullOrWhiteSpace(Age))
            return null;
        if (Number(Age) is { } years && years is >= 0 and <= 60)
            return new DateOnly(today.Year - (int)years, 1, 1);
        wrong["age"] = $"“{Age}” is no age in years, 0 to 60.";
        return null;
    }

    private int? ReadHeight(Dictionary<string, string> wrong)
    {
        if (string.IsNullOrWhiteSpace(Height))
            return null;
        var millimetres = Number(Height) is not { } number
            ? null
            : HeightIn switch
            {
                "hands" => DisplayUnits.FromHands(number),
                "m" => number * 1000,
                _ => number * 10,
            };
        if (millimetres is not { } mm)
        {
            wrong["height"] =
                HeightIn == "hands"
                    ? $"“{Height}” is no height in hands: 15.2 are fifteen hands and two inches, so after the point stands 0 to 3."
                    : $"“{Height}” is no number.";
            return null;
        }

        if (History.Plausible.Height.Holds(mm))
            return (int)Math.Round(mm);
        wrong["height"] =
            $"“{Height}” is no horse's height in {(HeightIn == "m" ? "metres" : HeightIn == "hands" ? "hands" : "centimetres")}.";
        return null;
    }

    /// <summary>A decimal comma is as good as a point: the field holds one number.</summary>
    private static double? Number(string text) =>
        double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
        && double.IsFinite(value)
            ? value
            : null;
}
