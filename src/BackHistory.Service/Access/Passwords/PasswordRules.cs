using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Access.Passwords;

/// <summary>
/// Twelve letters or more, of any kind, that are not among the first a guesser tries: no common password, no row of keys, no date,
/// nothing made of the person's own address or of the words of this service.
/// </summary>
public sealed class PasswordRules : IPasswordValidator<Account>
{
    public const int Shortest = 12;
    public const int Longest = 200;

    /// <summary>The sign-in allows some thousand tries a year at one account; this leaves a margin for a stolen file of slow
    /// hashes.</summary>
    private const double FewestGuesses = 1e9;

    /// <summary>Words that stand near: a guesser who looks at this service tries them first.</summary>
    public static IReadOnlyList<string> Near { get; } =
    [
        "backhistory",
        "back",
        "history",
        "horse",
        "saddle",
        "saddler",
        "saddlefit",
        "fitter",
        "practice",
        "withers",
        "pferd",
        "sattel",
        "sattler",
        "stall",
        "yard",
        "pony",
        "girth",
    ];

    public Task<IdentityResult> ValidateAsync(UserManager<Account> manager, Account user, string? password)
    {
        var text = password ?? "";
        if (text.Length < Shortest)
            return No(
                "PasswordTooShort",
                $"A password has at least {Shortest} letters. Four words that nobody would put together are easy to keep in mind."
            );
        if (text.Length > Longest)
            return No("PasswordTooLong", $"A password has at most {Longest} letters.");
        string[] own = [.. Near, .. user.Email.Split('@', '.', '-', '_', '+').Where(p => p.Length > 2), user.Email];
        return PasswordGuesser.Guesses(text, own) < FewestGuesses
            ? No(
                "PasswordTooCommon",
                "This password is among the first that a guesser tries. Take four words that nobody would put together, or let your "
                    + "browser make one."
            )
            : Task.FromResult(IdentityResult.Success);
    }

    private static Task<IdentityResult> No(string code, string says) =>
        Task.FromResult(IdentityResult.Failed(new IdentityError { Code = code, Description = says }));
}
