namespace BackHistory.Store.Accounts;

/// <summary>What a person may do in a practice; each may do what those before it may.</summary>
public enum PracticeRole
{
    ReadOnly,
    Apprentice,
    Fitter,
    Manager,
    Administrator,
}
