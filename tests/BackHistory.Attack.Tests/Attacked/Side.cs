namespace BackHistory.Attack.Tests.Attacked;

/// <summary>One of the two practices: its tenant, and the word that stands in everything it writes and in nothing of the other's.</summary>
internal sealed record Side(string Practice, string Canary)
{
    public static Side North { get; } = new("north", "Quoxalder");

    public static Side South { get; } = new("south", "Vimbrasco");

    public Side Other => this == North ? South : North;
}
