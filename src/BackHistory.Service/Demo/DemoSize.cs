namespace BackHistory.Service.Demo;

/// <summary>How large the invented practice is.</summary>
public sealed record DemoSize(int Seed = 20261, int Horses = 300, int Years = 3);
