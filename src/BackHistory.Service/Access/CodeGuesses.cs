using BackHistory.Store.Accounts;

namespace BackHistory.Service.Access;

/// <summary>Six wrong codes, and codes rest for a quarter of an hour: counted apart from passwords, for who gets to the codes has proved
/// something already.</summary>
internal sealed class CodeGuesses(AccountDocuments accounts, TimeProvider time)
{
    private const int Most = 6;
    private static readonly TimeSpan Rests = TimeSpan.FromMinutes(15);

    public bool Rest(Account account) => account.CodesRestUntil > time.GetUtcNow();

    /// <summary>Counts a wrong code; a right one begins anew.</summary>
    public async Task Note(Account? account, bool right)
    {
        if (account is null || Rest(account) || (right && account.FailedCodes == 0))
            return;
        var now = time.GetUtcNow();
        // As the account stands now: two wrong codes at once are two.
        await accounts.Change(account.Id, a => Count(a, right, now), CancellationToken.None);
    }

    private static void Count(Account account, bool right, DateTimeOffset now)
    {
        account.FailedCodes = right ? 0 : account.FailedCodes + 1;
        if (account.FailedCodes < Most)
            return;
        account.FailedCodes = 0;
        account.CodesRestUntil = now + Rests;
    }
}
