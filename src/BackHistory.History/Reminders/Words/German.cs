using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders;

internal static class German
{
    private static readonly string[] Months =
    [
        "Januar",
        "Februar",
        "März",
        "April",
        "Mai",
        "Juni",
        "Juli",
        "August",
        "September",
        "Oktober",
        "November",
        "Dezember",
    ];

    public static string Of(ReminderRule rule, Evidence e, string horse)
    {
        var since = e.Baseline is { } day ? $", seit der Sattel im {Month(day)} eingestellt wurde" : ", seit der Sattel eingestellt wurde";
        return rule switch
        {
            ReminderRule.ShapeChanged or ReminderRule.SidesUnlike =>
                $"{Happened(e.Finding, horse)}{since}, und zwar mehr, als wir bei einem Sattel hinnehmen würden.",
            ReminderRule.WeightChanged =>
                $"{Happened(e.Finding, horse)}{since}; der Sattel liegt also auf einem anderen Rücken als damals.",
            ReminderRule.Growing =>
                $"{Happened(e.Finding, horse)}{since}, wie es bei jungen Pferden ist; bald passt der Sattel nicht mehr zu dieser Form.",
            ReminderRule.FastLoss =>
                $"{horse} hat{Since(e.Baseline)} auf beiden Seiten Muskeln und dazu Gewicht verloren: Das gehört in tierärztliche Hand, "
                    + $"bevor jemand den Sattel ändert.",
            ReminderRule.NotRechecked =>
                $"Der Sattel von {horse} wurde{In(e.Baseline)} geändert; seither hat ihn niemand am Pferd angesehen.",
            ReminderRule.VetCaution =>
                $"{Happened(e.Finding, horse)}{since}, die andere Seite aber nicht: Das gehört in tierärztliche Hand, bevor jemand den "
                    + $"Sattel ändert.",
            ReminderRule.MeasureAgain when e.Leans is { } tracings =>
                $"Die Zeichnungen von {horse} vom {Day(tracings.On)} neigen sich alle gleich nach "
                    + $"{(tracings.Way == "left" ? "links" : "rechts")}: "
                    + "bitte das Blatt waagerecht ausrichten und noch einmal zeichnen.",
            ReminderRule.MeasureAgain =>
                $"Die letzte Messung von {horse}{Last(e)} passt nicht zu den früheren und sollte wiederholt werden.",
            _ => Due(e, horse),
        };
    }

    private static string Happened(Finding? finding, string horse)
    {
        var back = $"Der Rücken von {horse}";
        if (finding is null)
            return $"{back} hat seine Form verändert";
        var place = Place(finding.Station) is { } at ? $" {at}" : "";
        var side = finding.Side switch
        {
            "left" => " links",
            "right" => " rechts",
            _ => "",
        };
        return finding.Kind switch
        {
            FindingKind.Wider => $"{back} ist{place}{side} breiter geworden",
            FindingKind.Narrower => $"{back} ist{place}{side} schmaler geworden",
            FindingKind.Hollower => $"{back} ist{place}{side} hohler geworden",
            FindingKind.Fuller => $"{back} ist{place}{side} voller geworden",
            FindingKind.LessAlike => $"Die beiden Seiten des Rückens von {horse} sind{place} ungleicher geworden",
            FindingKind.Lower => $"{back} ist zwischen Schulter und Lende tiefer geworden",
            FindingKind.Higher => $"{back} hat sich zwischen Schulter und Lende gehoben",
            FindingKind.Heavier => $"{horse} hat zugenommen",
            FindingKind.Lighter => $"{horse} hat abgenommen",
            _ => $"{back} hat{place} seine Form verändert",
        };
    }

    private static string? Place(string? station) =>
        station switch
        {
            null => null,
            "shoulder" => "an der Schulter",
            "behind-shoulder" => "hinter der Schulter",
            "mid-back" => "in der Mitte",
            "last-rib" => "an der letzten Rippe",
            "front" => "vorn",
            _ => $"an der Stelle „{station.Replace('-', ' ')}“",
        };

    private static string Due(Evidence e, string horse)
    {
        if (e.LastVisit is not { } last)
            return $"{horse} wurde noch nie gemessen; niemand kann deshalb sagen, ob der Sattel passt.";
        var reason = e.Because switch
        {
            CheckReason.Forecast => ", und der Rücken kann sich seither verändert haben, ohne dass es jemand gesehen hat",
            CheckReason.YoungHorse => ", und ein junges Pferd verändert sich schnell",
            CheckReason.OldHorse => ", und ein älteres Pferd verändert sich schneller",
            CheckReason.BackFromLayOff => ", und ein Pferd, das nach einer Pause wieder arbeitet, verändert sich schnell",
            CheckReason.ChangingWork => ", und die Arbeit hat sich seither geändert",
            CheckReason.WeightChange => ", und das Gewicht hat sich seither geändert",
            CheckReason.NewSaddle => ", und ein neuer oder neu gepolsterter Sattel setzt sich",
            _ => "",
        };
        return $"{horse} wurde zuletzt im {Month(last)} gemessen{reason}: Es ist Zeit, wieder nachzusehen.";
    }

    private static string Since(DateOnly? day) => day is { } d ? $" seit {Month(d)}" : "";

    private static string In(DateOnly? day) => day is { } d ? $" im {Month(d)}" : "";

    private static string Last(Evidence e) => e.LastVisit is { } day ? $" im {Month(day)}" : "";

    private static string Day(DateOnly day) => FormattableString.Invariant($"{day.Day}. {Months[day.Month - 1]} {day.Year}");

    private static string Month(DateOnly day) => FormattableString.Invariant($"{Months[day.Month - 1]} {day.Year}");
}
