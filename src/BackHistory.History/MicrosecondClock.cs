namespace BackHistory.History;

/// <summary>A clock that shows microseconds.</summary>
public sealed class MicrosecondClock(TimeProvider clock) : TimeProvider
{
    public override TimeZoneInfo LocalTimeZone => clock.LocalTimeZone;

    public override long TimestampFrequency => clock.TimestampFrequency;

    public override DateTimeOffset GetUtcNow() => Microseconds.Cut(clock.GetUtcNow());

    public override long GetTimestamp() => clock.GetTimestamp();

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        clock.CreateTimer(callback, state, dueTime, period);
}
