using BackHistory.Application.Access;
using Hangfire;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Access.Letters;

/// <summary>Hands letters about accounts to the post. A job's arguments are ids; what else it needs is sealed.</summary>
public sealed class AccountPost(IBackgroundJobClient jobs, IDataProtectionProvider protection) : IAccountLetters
{
    private readonly IDataProtector _seal = protection.CreateProtector("account letters");

    /// <param name="id">The account's, or the invitation's; one that is not there leads to no letter, and takes as long.</param>
    /// <param name="about">See <see cref="AccountLetterWords"/>; personal data travel sealed.</param>
    /// <param name="to">Another address than the account's own.</param>
    public void Send(AccountLetter letter, Guid id, string? about = null, string? to = null)
    {
        var (sealedAbout, sealedTo) = (Seal(about), Seal(to));
        var number = Guid.NewGuid();
        jobs.Enqueue<AccountLetterJob>(job => job.Run(number, letter, id, sealedAbout, sealedTo, CancellationToken.None));
    }

    public void Invite(Guid invitationId) => Send(AccountLetter.Invitation, invitationId);

    public void TellOfSharedHorse(Guid invitationId) => Send(AccountLetter.Shared, invitationId);

    public void TellOfKey(Guid accountId, string label) => Send(AccountLetter.KeyMade, accountId, label);

    public void TellOfRecovery(Guid accountId) => Send(AccountLetter.SecondFactorChanged, accountId, AccountLetterWords.TurnedOff);

    public string? Open(string? text) => text is null ? null : _seal.Unprotect(text);

    private string? Seal(string? text) => text is null ? null : _seal.Protect(text);
}
