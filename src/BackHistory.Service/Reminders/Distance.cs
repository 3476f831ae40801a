using System.Globalization;

namespace BackHistory.Service.Reminders;

/// <summary>How far, as a person reads it.</summary>
internal static class Distance
{
    public static string Words(double km) => km < 1 ? "under 1 km" : string.Create(CultureInfo.InvariantCulture, $"{km:0} km");
}
