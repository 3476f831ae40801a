using BackHistory.History;

namespace BackHistory.Testing;

/// <summary>
/// A clock that began on the same Wednesday in November at every run and goes on from there: what a test sees does not depend on the day
/// on which it runs.
/// </summary>
public sealed class TestClock : TimeProvider
{
    /// <summary>A working day at ten in the morning in Berlin.</summary>
    private static readonly DateTimeOffset Began = new(2026, 11, 25, 9, 0, 0, TimeSpan.Zero);

    private readonly long _from = System.GetTimestamp();

    private TestClock() { }

    /// <summary>The one clock of a test run: hosts, tests and browsers must agree.</summary>
    public static TestClock Running { get; } = new();

    public override DateTimeOffset GetUtcNow() => Microseconds.Cut(Began + System.GetElapsedTime(_from));
}
