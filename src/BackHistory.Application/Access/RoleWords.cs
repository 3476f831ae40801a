using BackHistory.Store.Accounts;

namespace BackHistory.Application.Access;

/// <summary>Roles in a person's words.</summary>
public static class RoleWords
{
    public static string Of(PracticeRole role) =>
        role switch
        {
            PracticeRole.ReadOnly => "may look",
            PracticeRole.Apprentice => "apprentice: enters, and somebody confirms",
            PracticeRole.Fitter => "fitter",
            PracticeRole.Manager => "manager",
            _ => "administrator",
        };
}
