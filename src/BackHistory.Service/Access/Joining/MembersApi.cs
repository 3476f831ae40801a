using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.Service.Web;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Joining;

/// <summary>Who works in the practice: inviting, changing a role, letting go, ending sessions.</summary>
public static class MembersApi
{
    public static void MapMembers(this WebApplication app)
    {
        var members = app.MapGroup("/practice/members").ExcludeFromDescription();
        members.MapPost("/invite", Invite).Needs<InviteMember>();
        members.MapPost("/invitations/revoke", Revoke).Needs<TakeBackInvitation>();
        members.MapPost("/role", Role).Needs<ChangeRole>();
        members.MapPost("/remove", Remove).Needs<RemoveMember>();
        members.MapPost("/end-sessions", EndSessions).Needs<EndMemberSessions>();
    }

    private static async Task<IResult> Invite(
        HttpContext http,
        [FromForm] string? name,
        [FromForm] string? email,
        [FromForm] PracticeRole role,
        [FromForm] string? language,
        InviteMember invite,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var input = new InviteMember.Input(Guid.NewGuid(), Guid.NewGuid(), name, email, role, language);
        return To(await invite.Do(input, Callers.ByPress(http, time), ct), "invited");
    }

    private static async Task<IResult> Revoke(
        HttpContext http,
        [FromForm] Guid id,
        TakeBackInvitation takeBack,
        TimeProvider time,
        CancellationToken ct
    )
    {
        await takeBack.Do(new TakeBackInvitation.Input(id), Callers.ByPress(http, time), ct);
        return To(null, "revoked");
    }

    private static async Task<IResult> Role(
        HttpContext http,
        [FromForm] Guid id,
        [FromForm] PracticeRole role,
        ChangeRole change,
        TimeProvider time,
        CancellationToken ct
    ) => To(await change.Do(new ChangeRole.Input(id, role), Callers.ByPress(http, time), ct), "role");

    private static async Task<IResult> Remove(
        HttpContext http,
        [FromForm] Guid id,
        RemoveMember remove,
        TimeProvider time,
        CancellationToken ct
    ) => To(await remove.Do(new RemoveMember.Input(id), Callers.ByPress(http, time), ct), "removed");

    private static async Task<IResult> EndSessions(
        HttpContext http,
        [FromForm] Guid id,
        EndMemberSessions end,
        TimeProvider time,
        CancellationToken ct
    )
    {
        await end.Do(new EndMemberSessions.Input(id, SessionEvents.SessionOf(http.User)), Callers.ByPress(http, time), ct);
        return To(null, "sessions");
    }

    private static IResult To(Refused? refused, string done) =>
        Results.LocalRedirect($"/practice/members?{(refused is null ? $"done={done}" : $"refused={refused.Code}")}");
}
