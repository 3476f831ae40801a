using BackHistory.Application;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authorization;

namespace BackHistory.Service.Access;

/// <summary>Who may do what in a practice. Every endpoint and page names one of these or stands on the short open list.</summary>
public static class Policies
{
    /// <summary>See horses, saddles, trends and reminders.</summary>
    public const string See = "see";

    /// <summary>Register horses and people, enter visits. What an apprentice enters is confirmed by a fitter.</summary>
    public const string Enter = "enter";

    /// <summary>What a fitter answers for: confirming, correcting and withdrawing, work on saddles, reminders.</summary>
    public const string Fit = "fit";

    /// <summary>Share horses, write to owners, answer for them, change rules.</summary>
    public const string Manage = "manage";

    /// <summary>People, keys, jobs.</summary>
    public const string Administer = "administer";

    /// <summary>The jobs of the whole installation.</summary>
    public const string Operate = "operate";

    /// <summary>One's own account, in no practice or in any.</summary>
    public const string Myself = "myself";

    /// <summary>What is shown to the account itself, with whatever second factor it has set up.</summary>
    public const string Proved = "proved";

    /// <summary>What decides who can sign in to one's own account: only shortly after proving who one is.</summary>
    public const string Fresh = "fresh";

    /// <summary>The policy of whoever holds the right that an act needs.</summary>
    public static RouteHandlerBuilder Needs<TAct>(this RouteHandlerBuilder door)
        where TAct : IAct => door.RequireAuthorization(PolicyFor(TAct.Needs));

    private static string PolicyFor(Right right) =>
        right switch
        {
            Right.See => See,
            Right.Enter => Enter,
            Right.Fit => Fit,
            Right.Manage => Manage,
            Right.Administer => Administer,
            _ => throw new ArgumentOutOfRangeException(nameof(right)),
        };

    /// <param name="secondFactor">Whether a practice is entered with two factors only.</param>
    public static AuthorizationBuilder AddPracticePolicies(this AuthorizationBuilder builder, bool secondFactor)
    {
        return builder
            .AddPolicy(See, AtLeast(PracticeRole.ReadOnly))
            .AddPolicy(Enter, AtLeast(PracticeRole.Apprentice))
            .AddPolicy(Fit, AtLeast(PracticeRole.Fitter))
            .AddPolicy(Manage, AtLeast(PracticeRole.Manager))
            .AddPolicy(Administer, AtLeast(PracticeRole.Administrator))
            .AddPolicy(
                Operate,
                policy =>
                {
                    AtLeast(PracticeRole.Administrator)(policy);
                    policy.AddRequirements(new OperateRequirement());
                }
            )
            .AddPolicy(Myself, policy => OnlyPeople(policy))
            .AddPolicy(Proved, policy => OnlyPeople(policy).RequireAssertion(context => !Freshness.IsHalf(context.User)))
            .AddPolicy(Fresh, policy => OnlyPeople(policy).AddRequirements(new FreshRequirement()))
            // Whatever forgets its policy is closed, not open.
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().RequireAssertion(_ => false).Build());

        Action<AuthorizationPolicyBuilder> AtLeast(PracticeRole role) =>
            policy =>
                policy
                    .RequireAuthenticatedUser()
                    .RequireAssertion(context =>
                        SignedIn.TryFrom(context.User) is { } who
                        && who.Role >= role
                        && !Freshness.IsHalf(context.User)
                        && (!secondFactor || context.User.HasClaim(c => c.Type == PracticeClaims.SecondFactor))
                    );
    }

    /// <summary>A program's key opens a practice, never its owner's account.</summary>
    private static AuthorizationPolicyBuilder OnlyPeople(AuthorizationPolicyBuilder policy) =>
        policy.RequireAuthenticatedUser().RequireAssertion(context => context.User.HasClaim(c => c.Type == PracticeClaims.Session));
}
