namespace BackHistory.Store.Imports;

public sealed record KnownSaddle(Guid Id, string Label);
