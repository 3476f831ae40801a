using BackHistory.Trends.Rules;
using System.Globalization;

namespace BackHistory.History.Reminders;

internal static class English
{
    public static string Of(ReminderRule rule, Evidence e, string horse)
    {
        var since = e.Baseline is { } day ? $"since the saddle was set in {Month(day)}" : "since the saddle was set";
        return rule switch
        {
            ReminderRule.ShapeChanged or ReminderRule.SidesUnlike =>
                $"{Happened(e.Finding, horse)} {since}, by more than we would leave a saddle for.",
            ReminderRule.WeightChanged => $"{Happened(e.Finding, horse)} {since}, and the saddle was set to the back as it was.",
            ReminderRule.Growing =>
                $"{Happened(e.Finding, horse)} {since}, as young horses do, and the saddle will soon be set to another shape.",
            ReminderRule.FastLoss =>
                $"{horse} has lost weight and muscle on both sides{Since(e.Baseline)}: that is for a vet to look at before anyone "
                    + $"changes the saddle.",
            ReminderRule.NotRechecked => $"{horse}'s saddle was altered{In(e.Baseline)}, and nobody has looked at it on the horse since.",
            ReminderRule.VetCaution =>
                $"{Happened(e.Finding, horse)} {since}, and the other side has not: that is for a vet to look at before anyone changes "
                    + $"the saddle.",
            ReminderRule.MeasureAgain when e.Leans is { } tracings =>
                $"The tracings of {horse} of {Day(tracings.On)} all lean the same way to the {tracings.Way}: "
                    + "level the sheet and trace again.",
            ReminderRule.MeasureAgain =>
                $"The last measurement of {horse}{Last(e)} does not fit with those before it, so it should be taken again.",
            _ => Due(e, horse),
        };
    }

    private static string Happened(Finding? finding, string horse)
    {
        if (finding is null)
            return $"{horse}'s back has changed shape";
        var side = finding.Side is null ? "" : $" on the {finding.Side}";
        var words = finding.Kind switch
        {
            FindingKind.Wider => $"{horse}'s back has become wider{side}",
            FindingKind.Narrower => $"{horse}'s back has become narrower{side}",
            FindingKind.Hollower => $"{horse}'s back has become hollower{side}",
            FindingKind.Fuller => $"{horse}'s back has filled out{side}",
            FindingKind.LessAlike => $"the two sides of {horse}'s back have become less alike",
            FindingKind.Lower => $"{horse}'s back has sunk lower between the shoulders and the loins",
            FindingKind.Higher => $"{horse}'s back has risen between the shoulders and the loins",
            FindingKind.Heavier => $"{horse} has put on weight",
            FindingKind.Lighter => $"{horse} has lost weight",
            _ => $"{horse}'s back has changed shape",
        };
        var place = Place(finding.Station);
        return place is null ? char.ToUpperInvariant(words[0]) + words[1..] : $"{place} {words}";
    }

    private static string? Place(string? station) =>
        station switch
        {
            null => null,
            "shoulder" => "At the shoulder",
            "behind-shoulder" => "Behind the shoulder",
            "mid-back" => "In the middle of the back",
            "last-rib" => "At the last rib",
            "front" => "In front",
            _ => $"At the place we call {station.Replace('-', ' ')}",
        };

    private static string Due(Evidence e, string horse)
    {
        if (e.LastVisit is not { } last)
            return $"{horse} has not been measured yet, so nobody can say whether the saddle suits.";
        var reason = e.Because switch
        {
            CheckReason.Forecast => ", and by now the back may have changed without anyone seeing it",
            CheckReason.YoungHorse => ", and a young horse changes quickly",
            CheckReason.OldHorse => ", and an older horse changes more quickly",
            CheckReason.BackFromLayOff => ", and a horse that is back at work after a break changes quickly",
            CheckReason.ChangingWork => ", and its work has changed since",
            CheckReason.WeightChange => ", and its weight has changed since",
            CheckReason.NewSaddle => ", and a new or newly stuffed saddle settles",
            _ => "",
        };
        return $"{horse} was last measured in {Month(last)}{reason}: it is time to look again.";
    }

    private static string Since(DateOnly? day) => day is { } d ? $" since {Month(d)}" : "";

    private static string In(DateOnly? day) => day is { } d ? $" in {Month(d)}" : "";

    private static string Last(Evidence e) => e.LastVisit is { } day ? $" in {Month(day)}" : "";

    private static string Day(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    private static string Month(DateOnly day) => day.ToString("MMMM yyyy", CultureInfo.InvariantCulture);
}
