namespace BackHistory.History.Naming;

/// <summary>What lies beside the events and can be named by them.</summary>
public enum NamedKind
{
    Person,
    Yard,
}
