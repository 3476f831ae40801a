using System.Security.Cryptography;
using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Access;

/// <summary>
/// Who works in a practice and lost telephone, codes and passkeys gets in again with a new password, the sole administrator too: everything
/// that signed them in or asked for a second proof ends, and so does every key of theirs: whoever held the telephone may have made one.
/// Nobody in a practice may do this to another, for an account may be at work
/// elsewhere; whoever runs the machine may.
/// </summary>
public sealed class RecoverAccount(
    KnownPractices known,
    AccountDocuments accounts,
    SignInSessions sessions,
    AccessKeys keys,
    IAccountLetters letters,
    AuditBook audit,
    TimeProvider time
) : IAct
{
    private const int StampBytes = 20;

    public static Right Needs => Right.Operate;

    /// <param name="Practice">Its name, in whatever case, or its id where two have the same name.</param>
    /// <param name="Email">With which they sign in.</param>
    public sealed record Input(string Practice, string Email);

    /// <param name="Account">As it is now, for a link to a new password.</param>
    /// <param name="Sessions">How many ended.</param>
    /// <param name="Keys">How many keys of programs ended that could still be used.</param>
    public sealed record Done(Account Account, int Sessions, int Keys);

    /// <returns>What was done, or why nothing was changed.</returns>
    public async Task<(Done? Done, Refused? Refused)> Do(Input input, CancellationToken ct)
    {
        var named = (await known.All(ct))
            .Where(p => p.Id == input.Practice || string.Equals(p.Name, input.Practice, StringComparison.OrdinalIgnoreCase))
            .ToList();
        if (named.Count == 0)
            return (null, new Refused("no-such-practice", $"There is no practice called {input.Practice} here. Nothing was changed."));
        if (named.Count > 1)
            return (null, TwoOfThatName(input.Practice, named.Select(p => p.Id)));
        var practice = named[0];
        var account = (await accounts.In(practice.Id, ct)).FirstOrDefault(a =>
            string.Equals(a.Email, input.Email, StringComparison.OrdinalIgnoreCase)
        );
        if (account is null)
            return (null, NobodySignsInWith(input.Email, practice.Name));

        // Written down before it is done: killed between the two, it says too much and not too little.
        foreach (var membership in account.Memberships)
            await audit.Note(
                membership.Practice,
                new AuditNote(Guid.CreateVersion7(time.GetUtcNow()), time.GetUtcNow(), AuditWords.Recovered, null, null)
                {
                    About = membership.PersonId,
                },
                ct
            );
        var recovered = await accounts.Change(account.Id, Forget, ct);
        if (recovered is null)
            return (null, Members.Gone);
        var done = new Done(
            recovered,
            await sessions.EndOthers(account.Id, null, ct),
            await keys.RemoveAll(account.Id, time.GetUtcNow(), ct)
        );
        letters.TellOfRecovery(account.Id);
        return (done, null);
    }

    /// <summary>The password too: whoever holds the telephone may know it. A new stamp voids every cookie and every link that is
    /// out.</summary>
    private static void Forget(Account account)
    {
        account.TwoFactor = false;
        account.AuthenticatorKey = null;
        account.RecoveryCodes = [];
        account.RecoverySalt = null;
        // Steps were of the old secret: a code of the new one counts from the first.
        account.LastCodeStep = 0;
        account.Passkeys = [];
        account.Logins = [];
        account.PasswordHash = null;
        account.FailedSignIns = account.FailedCodes = 0;
        account.LockedUntil = account.CodesRestUntil = null;
        account.SecurityStamp = Convert.ToHexString(RandomNumberGenerator.GetBytes(StampBytes));
    }

    private static Refused NobodySignsInWith(string email, string practice) =>
        new("no-such-account", $"Nobody who works in {practice} signs in with {email}. Nothing was changed.");

    private static Refused TwoOfThatName(string name, IEnumerable<string> ids) =>
        new(
            "two-of-that-name",
            $"More than one practice is called {name}. Say which by its id: {string.Join(", ", ids)}. Nothing was changed."
        );
}
