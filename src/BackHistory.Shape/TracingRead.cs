namespace BackHistory.Shape;

/// <summary>What came of reading a tracing: exactly one of the two is there.</summary>
public readonly record struct TracingRead(Tracing? Tracing, Refusal? Refused)
{
    public static implicit operator TracingRead(Tracing tracing) => new(tracing, null);

    public static implicit operator TracingRead(Refusal refusal) => new(null, refusal);
}
