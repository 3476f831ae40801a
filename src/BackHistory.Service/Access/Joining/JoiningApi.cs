using BackHistory.Application.Access;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Jobs;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Joining;

/// <summary>Accepting an invitation: with a new account, or with the one that there is.</summary>
public static class JoiningApi
{
    public static void MapJoining(this WebApplication app)
    {
        // Open by nature: whoever is invited has no account yet; the sealed link, which only their mailbox holds, is what lets them in.
        app.MapPost("/welcome/{token}", Accept).AllowAnonymous().ExcludeFromDescription();
    }

    private static async Task<IResult> Accept(
        HttpContext http,
        string token,
        [FromForm] string? password,
        [FromForm] string? name,
        AccountLinks links,
        Invitations invitations,
        UserManager<Account> users,
        AcceptInvitation accept,
        Schedule schedule,
        Guesses guesses,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var page = $"/welcome/{Uri.EscapeDataString(token)}";
        if (!guesses.May(http, null))
            return SignIn.SignInApi.TooOften(http, page, null);
        var link = links.Read(token, AccountLinkKind.Accept);
        if (link is null || await invitations.Load(link.Id, ct) is not { } invitation || !invitation.Open(time.GetUtcNow()))
            return Results.LocalRedirect(page);
        var account = await users.FindByEmailAsync(invitation.Email);
        // The mailbox alone is not an account that there is: its owner signs in as ever, and then accepts.
        if (account is not null && SessionEvents.AccountOf(http.User) != account.Id)
            return Results.LocalRedirect(Addresses.With("/sign-in", page));
        if (AcceptInvitation.IsFirst(invitation) && AcceptInvitation.NameProblem(name) is not null)
            return Results.LocalRedirect($"{page}?refused=no-name");
        if (account is null)
        {
            account = new Account
            {
                Id = Guid.NewGuid(),
                Email = invitation.Email,
                EmailConfirmed = true,
                Language = invitation.Language,
            };
            var made = await users.CreateAsync(account, password ?? "");
            if (!made.Succeeded)
                return Results.LocalRedirect($"{page}?refused={made.Errors.First().Code}");
        }

        await accept.Do(new AcceptInvitation.Input(invitation, account.Id, name), ct);
        // A practice that was founded while the service ran gets its jobs with its first administrator.
        await schedule.Keep(ct);
        return Results.LocalRedirect(
            SessionEvents.AccountOf(http.User) == account.Id
                ? invitation.GrantId is { } grant
                    ? $"/shared-with-me/{grant}"
                    : "/"
                : "/sign-in?joined=1"
        );
    }
}
