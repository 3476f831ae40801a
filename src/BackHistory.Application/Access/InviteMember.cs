using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Access;

/// <summary>Somebody is asked to work in the practice; nothing is theirs before they accept.</summary>
public sealed class InviteMember(PracticeQueries practices, Invitations invitations, IAccountLetters letters, AuditBook audit) : IAct
{
    private const int LongestName = 120;

    private static readonly Refused NoName = new("name", "Say in up to 120 letters who it is.", Place: "name");
    private static readonly Refused NoAddress = new("address", "This is no e-mail address.", Place: "email");
    private static readonly Refused NoRole = new("role", "There is no such role.", Place: "role");

    public static Right Needs => Right.Administer;

    /// <param name="PersonId">Who they will be, where nobody here has this address.</param>
    /// <param name="Language">Of the letter: <c>de</c>, else English.</param>
    public sealed record Input(Guid InvitationId, Guid PersonId, string? Name, string? Email, PracticeRole Role, string? Language);

    /// <returns>Why nobody was asked; null when they were.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var (practice, now) = (by.Context.Tenant, by.Context.Now);
        if (ReadableName.IsMissing(input.Name) || input.Name.Length > LongestName)
            return NoName;
        if (!EmailAddress.TryParse(input.Email, out var valid))
            return NoAddress;
        if (!Enum.IsDefined(input.Role))
            return NoRole;
        var language = ReportLanguage.For(input.Language).Tag;
        var role = input.Role >= PracticeRole.Manager ? PersonRole.Manager : PersonRole.Fitter;
        var person = new Person(input.PersonId, input.Name.Trim(), valid.Value, null, null, role, language);
        var known = await practices.PersonByEmail(practice, valid.Value, ct);
        if (known is null)
            await practices.Add(practice, person, ct);
        var invitation = new Invitation(
            input.InvitationId,
            practice,
            (known ?? person).Id,
            valid.Value,
            language,
            input.Role,
            by.Context.Actor,
            now,
            now + Invitation.Life
        );
        await invitations.Add(invitation, ct);
        letters.Invite(invitation.Id);
        await audit.Note(by, AuditWords.Invited, invitation.PersonId, ReportLanguage.English.Name(input.Role), ct);
        return null;
    }
}
