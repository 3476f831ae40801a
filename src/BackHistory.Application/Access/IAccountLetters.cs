namespace BackHistory.Application.Access;

/// <summary>Letters about accounts and invitations, written after an act and sent by and by.</summary>
public interface IAccountLetters
{
    /// <summary>Asks somebody to work in the practice.</summary>
    void Invite(Guid invitationId);

    /// <summary>Tells somebody that a horse is shared with them.</summary>
    void TellOfSharedHorse(Guid invitationId);

    /// <summary>Tells somebody that a program works as them from now on.</summary>
    void TellOfKey(Guid accountId, string label);

    /// <summary>Tells somebody that nothing but a new password lets them in from now on.</summary>
    void TellOfRecovery(Guid accountId);
}
