using BackHistory.History;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Access;

/// <summary>Who works in a practice, for acts on them.</summary>
internal static class Members
{
    public static readonly Refused Gone = new("gone", "This person does not work here any more.", RefusalKind.NotFound);

    public static readonly Refused Last = new(
        "last",
        "This is the only administrator: name another one first. A practice without an administrator could never get one again.",
        RefusalKind.Conflict
    );

    /// <param name="personId">Who they are in this practice: an account's own id is nobody's here.</param>
    public static async Task<Account?> Member(this AccountDocuments accounts, string practice, Guid personId, CancellationToken ct) =>
        (await accounts.In(practice, ct)).FirstOrDefault(a => a.Memberships.Exists(m => m.Practice == practice && m.PersonId == personId));

    public static async Task<bool> IsLastAdministrator(
        this AccountDocuments accounts,
        string practice,
        Account account,
        CancellationToken ct
    ) =>
        !(await accounts.In(practice, ct)).Any(a =>
            a.Id != account.Id && a.Memberships.Exists(m => m.Practice == practice && m.Role == PracticeRole.Administrator)
        );
}
