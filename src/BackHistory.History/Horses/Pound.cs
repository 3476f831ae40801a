namespace BackHistory.History.Horses;

/// <summary>The avoirdupois pound: 0.45359237 kg exactly (international yard and pound agreement, 1959).</summary>
public static class Pound
{
    public const double Kilograms = 0.45359237;
}
