namespace BackHistory.History.Practices;

/// <summary>What a person mainly is to the practice.</summary>
public enum PersonRole
{
    Owner,
    Rider,
    Fitter,
    Manager,
    Veterinarian,
    Physiotherapist,
    Groom,
    Farrier,
}
