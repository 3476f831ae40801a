using BackHistory.History.Practices;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Audit;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Joining;

/// <summary>Who works in the practice: inviting, changing a role, letting go, ending sessions.</summary>
public static class MembersApi
{
    public static void MapMembers(this WebApplication app)
    {
        var members = app.MapGroup("/practice/members").RequireAuthorization(Policies.Administer).ExcludeFromDescription();
        members.MapPost("/invite", Invite);
        members.MapPost("/invitations/revoke", Revoke);
        members.MapPost("/role", Role);
        members.MapPost("/remove", Remove);
        members.MapPost("/end-sessions", EndSessions);
    }

    private static async Task<IResult> Invite(
        HttpContext http,
        [FromForm] string? name,
        [FromForm] string? email,
        [FromForm] PracticeRole role,
        [FromForm] string? language,
        PracticeQueries practices,
        Invitations invitations,
        AccountPost post,
        AuditTrail audit,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var who = SignedIn.From(http.User);
        if (string.IsNullOrWhiteSpace(name) || name.Length > 120)
            return Back("name");
        if (!EmailAddress.TryParse(email, out var valid))
            return Back("address");
        var address = valid.Value;
        if (!Enum.IsDefined(role))
            return Back("role");
        var person = new Person(
            Guid.NewGuid(),
            name.Trim(),
            address,
            null,
            null,
            role >= PracticeRole.Manager ? PersonRole.Manager : PersonRole.Fitter,
            ReportLanguage.Of(language).Tag
        );
        var known = await practices.PersonByEmail(who.Practice, address, ct);
        if (known is null)
            await practices.Add(who.Practice, person, ct);
        var now = time.GetUtcNow();
        var invitation = new Invitation(
            Guid.NewGuid(),
            who.Practice,
            (known ?? person).Id,
            address,
            person.Language,
            role,
            who.PersonId,
            now,
            now + Invitation.Life
        );
        await invitations.Add(invitation, ct);
        post.Send(AccountLetter.Invitation, invitation.Id);
        await audit.Note(http, AuditWords.Invited, invitation.PersonId, RoleWords.Of(role), ct);
        return Results.LocalRedirect("/practice/members?done=invited");
    }

    private static async Task<IResult> Revoke(
        HttpContext http,
        [FromForm] Guid id,
        Invitations invitations,
        AuditTrail audit,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (
            await invitations.Load(id, ct) is { } invitation
            && invitation.Practice == SignedIn.From(http.User).Practice
            && invitation.Open(time.GetUtcNow())
        )
        {
            await invitations.Change(id, i => i with { RevokedAt = time.GetUtcNow() }, ct);
            await audit.Note(http, AuditWords.InvitationTakenBack, invitation.PersonId, null, ct);
        }

        return Results.LocalRedirect("/practice/members?done=revoked");
    }

    private static async Task<IResult> Role(
        HttpContext http,
        [FromForm] Guid id,
        [FromForm] PracticeRole role,
        AccountDocuments accounts,
        AuditTrail audit,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (!Enum.IsDefined(role) || await Member(accounts, practice, id, ct) is not { } account)
            return Back("gone");
        if (role != PracticeRole.Administrator && await IsLast(accounts, practice, account, ct))
            return Back("last");
        await accounts.Change(
            account.Id,
            a => a.Memberships = a.Memberships.ConvertAll(m => m.Practice == practice ? m with { Role = role } : m),
            ct
        );
        await audit.Note(http, AuditWords.RoleChanged, id, RoleWords.Of(role), ct);
        return Results.LocalRedirect("/practice/members?done=role");
    }

    /// <summary>Takes somebody out of the practice; what they entered stays. Their next click, in whatever window, finds the door
    /// closed.</summary>
    private static async Task<IResult> Remove(
        HttpContext http,
        [FromForm] Guid id,
        AccountDocuments accounts,
        AuditTrail audit,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await Member(accounts, practice, id, ct) is not { } account)
            return Back("gone");
        if (await IsLast(accounts, practice, account, ct))
            return Back("last");
        await accounts.Change(account.Id, a => a.Memberships = a.Memberships.RemoveAll(m => m.Practice == practice), ct);
        await audit.Note(http, AuditWords.TakenOut, id, null, ct);
        return Results.LocalRedirect("/practice/members?done=removed");
    }

    private static async Task<IResult> EndSessions(
        HttpContext http,
        [FromForm] Guid id,
        AccountDocuments accounts,
        SignInSessions sessions,
        AuditTrail audit,
        CancellationToken ct
    )
    {
        if (await Member(accounts, SignedIn.From(http.User).Practice, id, ct) is { } account)
        {
            await sessions.EndOthers(account.Id, SessionEvents.SessionOf(http.User), ct);
            await audit.Note(http, AuditWords.SignedOut, id, null, ct);
        }

        return Results.LocalRedirect("/practice/members?done=sessions");
    }

    /// <param name="personId">Who they are in this practice: an account's own id is nobody's here.</param>
    private static async Task<Account?> Member(AccountDocuments accounts, string practice, Guid personId, CancellationToken ct) =>
        (await accounts.In(practice, ct)).FirstOrDefault(a => a.Memberships.Exists(m => m.Practice == practice && m.PersonId == personId));

    /// <summary>A practice without an administrator could never get one again.</summary>
    private static async Task<bool> IsLast(AccountDocuments accounts, string practice, Account account, CancellationToken ct) =>
        !(await accounts.In(practice, ct)).Any(a =>
            a.Id != account.Id && a.Memberships.Exists(m => m.Practice == practice && m.Role == PracticeRole.Administrator)
        );

    private static IResult Back(string refused) => Results.LocalRedirect($"/practice/members?refused={refused}");
}
