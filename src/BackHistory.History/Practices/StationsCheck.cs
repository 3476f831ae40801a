namespace BackHistory.History.Practices;

/// <summary>Whether a protocol that a practice sends can be traced by.</summary>
internal static class StationsCheck
{
    public static Refused? Problem(IReadOnlyList<Station> stations)
    {
        if (stations.Count is 0 or > 40)
            return new("no-stations", "A protocol names between 1 and 40 stations.", Place: "stations");
        for (var i = 0; i < stations.Count; i++)
        {
            var s = stations[i];
            if (!PracticeDecider.IsKey(s.Key) || string.IsNullOrWhiteSpace(s.Where) || s.Where.Length > 300)
                return new(
                    "bad-station",
                    "Each station has a key of up to 60 letters and says in up to 300 where it is.",
                    Place: $"stations[{i}]"
                );
            if (s.FromDatumMm is { } mm && !Plausible.FromDatum.Holds(mm))
                return new(
                    "bad-station",
                    "A station lies within 2.5 m of the datum. Is the distance in millimetres?",
                    Place: $"stations[{i}].fromDatumMm"
                );
        }

        return stations.DistinctBy(s => s.Key, StringComparer.Ordinal).Count() == stations.Count
            ? null
            : new("station-twice", "Each station stands in the protocol once.", Place: "stations");
    }
}
