using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Service.Web;

namespace BackHistory.Service.Visits;

/// <summary>When a visit was, with what it was measured and under which conditions, as it is typed. Nothing is said that nobody
/// said.</summary>
public class VisitDetailsForm : TypedForm
{
    public string? Day { get; set; }

    public string? Time { get; set; }

    /// <summary>One of the list.</summary>
    public string? Method { get; set; }

    /// <summary>One that the list does not have; it goes before the list.</summary>
    public string? OtherMethod { get; set; }

    /// <summary><c>true</c>, <c>false</c>, or nothing where nobody said.</summary>
    public string? LevelGround { get; set; }

    /// <inheritdoc cref="LevelGround"/>
    public string? StoodSquare { get; set; }

    public bool Ridden { get; set; }

    public bool BodyWork { get; set; }

    public HeadHeight Head { get; set; }

    /// <summary>Who held the horse; empty where nobody said.</summary>
    public Guid? Holder { get; set; }

    public Source Source { get; set; }

    /// <summary>Who measured, where it is put right.</summary>
    public Guid? By { get; set; }

    /// <summary>Why they are put right.</summary>
    public string? Reason { get; set; }

    public string MethodKey => (string.IsNullOrWhiteSpace(OtherMethod) ? Method : OtherMethod)?.Trim() ?? "";

    public VisitConditions Conditions => new(Said(LevelGround), Said(StoodSquare), Head, Ridden, BodyWork, Holder, Source);

    /// <summary>The details of a visit that was recorded.</summary>
    /// <param name="takenAt">Where the practice is.</param>
    public void Fill(VisitRecord visit, DateTimeOffset takenAt)
    {
        var c = visit.Conditions;
        Day = takenAt.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        Time = takenAt.ToString("HH:mm", CultureInfo.InvariantCulture);
        Method = visit.Method;
        (LevelGround, StoodSquare) = (Field(c.LevelGround), Field(c.StoodSquare));
        (Ridden, BodyWork, Head) = (c.RiddenInLastTwoHours, c.BodyWorkInLastDay, c.Head);
        (Holder, Source, By) = (c.Holder, c.Source, visit.By);
    }

    private static bool? Said(string? answer) =>
        answer switch
        {
            "true" => true,
            "false" => false,
            _ => null,
        };

    private static string? Field(bool? said) =>
        said switch
        {
            true => "true",
            false => "false",
            _ => null,
        };

    /// <summary>When it was true; names what is missing or is no day.</summary>
    internal DateTimeOffset? Check(Practice practice, EntryFields fields)
    {
        var dayRead = DateOnly.TryParseExact(Day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day);
        if (!dayRead)
            fields.Say("day", "Day: write it as 2026-04-21.");
        var timeRead = TimeOnly.TryParse(Time, CultureInfo.InvariantCulture, out var time);
        if (!timeRead)
            fields.Say("time", "Time: write it as 14:30.");
        if (MethodKey.Length is 0 or > 60)
            fields.Say("method", "Traced with: choose one of the list, or name another in up to 60 letters.");
        if (LevelGround is not ("true" or "false"))
            fields.Say("level", "Say whether the ground was level.");
        if (StoodSquare is not ("true" or "false"))
            fields.Say("square", "Say whether the horse stood square.");
        return dayRead && timeRead ? ZoneClock.At(day, time, PracticeClock.Zone(practice)) : null;
    }
}
