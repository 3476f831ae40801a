namespace BackHistory.Store.Imports;

/// <param name="Gauge">The key of the gauge in which its settings are read.</param>
public sealed record KnownSaddle(Guid Id, string Label, string? Gauge = null);
