using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>Which events change one gauge.</summary>
internal static class GaugeEvents
{
    public static bool IsOf(object e, string key) =>
        e switch
        {
            GaugeTableChanged changed => changed.Key == key,
            GaugeTableRetired retired => retired.Key == key,
            _ => false,
        };
}
