namespace BackHistory.History;

/// <summary>
/// Times as they are kept: PostgreSQL counts microseconds, .NET ticks of 100 ns. A time with odd ticks would lie at another place in the
/// database than in memory, and a page that goes on after it would meet the same row again.
/// </summary>
public static class Microseconds
{
    /// <summary>Cut to the microsecond: what a clock shows, where it enters.</summary>
    public static DateTimeOffset Cut(DateTimeOffset time) => time.AddTicks(-(time.Ticks % TimeSpan.TicksPerMicrosecond));

    /// <summary>
    /// To the nearest microsecond as PostgreSQL reads a written time: the fraction of the second as a double, times a million, half to even
    /// (<c>DecodeDateTime</c> and <c>dt2time</c> of its sources, from memory; held by a test against the database).
    /// </summary>
    public static DateTimeOffset AsRead(DateTimeOffset time)
    {
        var odd = time.Ticks % TimeSpan.TicksPerSecond;
        if (odd % TimeSpan.TicksPerMicrosecond == 0)
            return time;
        // "For ever" is written as the last moment there is: nothing can be rounded up to after it.
        if (time.UtcTicks > DateTimeOffset.MaxValue.UtcTicks - TimeSpan.TicksPerMicrosecond)
            return Cut(time);
        var micros = (long)Math.Round(odd / 1e7 * 1e6, MidpointRounding.ToEven);
        return time.AddTicks(micros * TimeSpan.TicksPerMicrosecond - odd);
    }
}
