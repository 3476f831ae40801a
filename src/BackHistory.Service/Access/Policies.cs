using Microsoft.AspNetCore.Authorization;
using BackHistory.History.Accounts;

namespace BackHistory.Service.Access;

/// <summary>Who may do what in a practice. Every endpoint and page names one of these or stands on the short open list.</summary>
public static class Policies
{
    /// <summary>See horses, saddles, trends and reminders.</summary>
    public const string See = "see";

    /// <summary>Enter visits and saddle work.</summary>
    public const string Enter = "enter";

    /// <summary>Write to owners, answer for them, change rules.</summary>
    public const string Manage = "manage";

    /// <summary>People, keys, jobs.</summary>
    public const string Administer = "administer";

    public static AuthorizationBuilder AddPracticePolicies(this AuthorizationBuilder builder) => builder
        .AddPolicy(See, AtLeast(PracticeRole.ReadOnly))
        .AddPolicy(Enter, AtLeast(PracticeRole.Apprentice))
        .AddPolicy(Manage, AtLeast(PracticeRole.Manager))
        .AddPolicy(Administer, AtLeast(PracticeRole.Administrator))
        // Whatever forgets its policy is closed, not open.
        .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().RequireAssertion(_ => false).Build());

    private static Action<AuthorizationPolicyBuilder> AtLeast(PracticeRole role) => policy => policy
        .RequireAuthenticatedUser()
        .RequireAssertion(context => SignedIn.TryFrom(context.User) is { } who && who.Role >= role);
}
