using BackHistory.History.Horses;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Language.Conditions;

/// <summary>What is said of a horse's condition over time: its sides, its changes, its work and its breaks.</summary>
public static class ConditionSentences
{
    /// <summary>The bar from which the sides are said to have parted; between even and this they may have.</summary>
    public const double Parted = 0.8,
        MayHaveParted = 0.5;

    /// <param name="unit">of the areas that were compared</param>
    public static string Sides(Parting parting, string station, string unit, Formatter say)
    {
        var where = say.Station(station);
        return parting.P < MayHaveParted
            ? say.Language["condition.sides-together", where]
            : say.Language[
                parting.P >= Parted ? "condition.sides-parted" : "condition.sides-may-have-parted",
                say.Day(parting.Since),
                say.Day(parting.From),
                say.Day(parting.To),
                where,
                say.Change(parting.Parted.Value, parting.Parted.Sd, unit)
            ];
    }

    public static string Change(
        string key,
        string? station,
        double change,
        double sd,
        string unit,
        DateOnly from,
        DateOnly to,
        Formatter say
    ) => say.Language["condition.change", say.Subject(key, station), say.Change(change, sd, unit), say.Day(from), say.Day(to)];

    public static string Work(WorkLoad load, string? discipline, ReportLanguage language)
    {
        var work = language[
            load switch
            {
                WorkLoad.None => "condition.work.none",
                WorkLoad.Light => "condition.work.light",
                WorkLoad.Moderate => "condition.work.moderate",
                WorkLoad.Hard => "condition.work.hard",
                _ => throw new ArgumentOutOfRangeException(nameof(load), load, "has no words"),
            }
        ];
        return load == WorkLoad.None || discipline is null ? work : language["condition.work.with-discipline", work, discipline];
    }
}
