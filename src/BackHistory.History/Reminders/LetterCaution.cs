namespace BackHistory.History.Reminders;

/// <summary>A caution that a letter carries, whatever words the practice gives it.</summary>
public enum LetterCaution
{
    /// <summary>A veterinary surgeon before anyone changes the saddle.</summary>
    VetFirst,

    /// <summary>Shape is described; nothing is diagnosed.</summary>
    NoDiagnosis,

    /// <summary>How to measure safely.</summary>
    SafeFooting,
}
